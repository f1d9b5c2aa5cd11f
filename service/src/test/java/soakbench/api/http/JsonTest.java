package soakbench.api.http;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import soakbench.drift.curve.BiasCurve;
import soakbench.model.Estimate;
import soakbench.model.Soak;
import soakbench.model.State;
import soakbench.model.StateChange;
import soakbench.readiness.Condition;
import soakbench.readiness.ReadyAt;
import soakbench.thermal.WarmUpCurve;

class JsonTest {

  record Names(double temperatureRateCPerMin, double minutesTo5Deg, double[] tauS, double startC) {}

  record TimesInside(long sinceUs, Long asOfUs, long[] breaksUs, List<Long> turnsUs, int spanUs) {}

  record Numbers(double plain, float single, Double boxed, double[] row, double[][] matrix) {}

  record Other(Optional<String> maybe, Instant at, Soak.End ended, String nothing) {}

  @ParameterizedTest
  @CsvSource({
    "temperatureRateCPerMin, temperature_rate_c_per_min",
    "minutesTo5Deg, minutes_to_5_deg",
    "tauS, tau_s",
    "startC, start_c",
    "biasDps, bias_dps",
    "tempcoDpsPerC, tempco_dps_per_c",
    "lagDpsPerCPerS, lag_dps_per_c_per_s",
    "rateRandomWalkDpsPerSqrtS, rate_random_walk_dps_per_sqrt_s",
    "window180S, window_180_s",
    "id, id"
  })
  void namesKeepTheirUnitsApart(String java, String json) {
    assertThat(UnitNames.snakeCase(java)).isEqualTo(json);
  }

  @Test
  void recordsAreWrittenWithTheirUnitsInTheNames() {
    assertThat(Json.write(new Names(0.5, 12, new double[] {1, 2}, 21.25)))
        .isEqualTo(
            "{\"temperature_rate_c_per_min\":0.5,\"minutes_to_5_deg\":12.0,\"tau_s\":[1.0,2.0],"
                + "\"start_c\":21.25}");
  }

  @Test
  void microsecondsBecomeTimesUnderANameWithoutTheUnit() {
    TimesInside times = new TimesInside(0, 1_500_000L, new long[] {1_000_001L}, List.of(-1L), 7);
    assertThat(Json.write(times))
        .isEqualTo(
            "{\"since\":\"1970-01-01T00:00:00Z\",\"as_of\":\"1970-01-01T00:00:01.500Z\","
                + "\"breaks\":[\"1970-01-01T00:00:01.000001Z\"],"
                + "\"turns\":[\"1969-12-31T23:59:59.999999Z\"],\"span_us\":7}");
  }

  @Test
  void anAbsentTimeIsNull() {
    assertThat(Json.write(new TimesInside(0, null, null, null, 0)))
        .contains("\"as_of\":null,\"breaks\":null,\"turns\":null");
  }

  @Test
  void whatWasMeasuredInSinglePrecisionIsWrittenWithItsOwnDigits() {
    float measured = 24.31f;
    double third = 1.0 / 3;
    Numbers numbers =
        new Numbers(
            measured,
            measured,
            (double) -0.12f,
            new double[] {measured, third, 0.1, 24.310000000000002, 1e300},
            new double[][] {{123_456_789.0, 16_777_216.0, 0}});
    assertThat(Json.write(numbers))
        .isEqualTo(
            "{\"plain\":24.31,\"single\":24.31,\"boxed\":-0.12,"
                + "\"row\":[24.31,0.3333333333333333,0.1,24.310000000000002,1.0E300],"
                + "\"matrix\":[[1.23456789E8,1.6777216E7,0.0]]}");
  }

  @Test
  void whatIsNotANumberBecomesNull() {
    Numbers numbers =
        new Numbers(
            Double.NaN,
            Float.POSITIVE_INFINITY,
            Double.NEGATIVE_INFINITY,
            new double[] {1, Double.NaN},
            new double[][] {{Double.NaN}, {2}});
    assertThat(Json.write(numbers))
        .isEqualTo(
            "{\"plain\":null,\"single\":null,\"boxed\":null,\"row\":[1.0,null],"
                + "\"matrix\":[[null],[2.0]]}");
    assertThat(Json.write(Arrays.asList(1.5, Double.NaN))).isEqualTo("[1.5,null]");
  }

  @Test
  void singlePrecisionKeepsItsShortForm() {
    assertThat(Json.write(new Numbers(0.1, 24.31f, null, null, null)))
        .startsWith("{\"plain\":0.1,\"single\":24.31,\"boxed\":null");
  }

  @Test
  void constantsAreLowerCaseWordsAndNothingIsLeftOut() {
    Other other = new Other(Optional.of("x"), Instant.EPOCH, Soak.End.LATE_REBOOT, null);
    assertThat(Json.write(other))
        .isEqualTo(
            "{\"maybe\":\"x\",\"at\":\"1970-01-01T00:00:00Z\",\"ended\":\"late_reboot\","
                + "\"nothing\":null}");
  }

  @Test
  void anEstimateIsAFigureWithItsIntervalOrAReason() {
    assertThat(Json.write(Estimate.of(1, 0.5, 2)))
        .isEqualTo("{\"value\":1.0,\"se\":0.5,\"low\":0.0,\"high\":2.0}");
    assertThat(Json.write(Estimate.unknown("too short")))
        .isEqualTo("{\"value\":null,\"reason\":\"too short\"}");
  }

  @Test
  void recordsOfTheModelTakeTheShapesThatTheApiPromises() {
    assertThat(Json.write(new StateChange(1_000_000, State.READY, false)))
        .isEqualTo("{\"time\":\"1970-01-01T00:00:01Z\",\"state\":\"ready\",\"revised\":false}");
    assertThat(Json.write(new ReadyAt(3_000_000, 2_000_000, 4_000_000, false)))
        .isEqualTo(
            "{\"expected\":\"1970-01-01T00:00:03Z\",\"earliest\":\"1970-01-01T00:00:02Z\","
                + "\"latest\":\"1970-01-01T00:00:04Z\",\"prior_used\":false}");
  }

  @Test
  void groupsOfPartsLeaveNoTraceInTheShapesThatTheApiPromises() {
    assertThat(Json.write(BiasCurve.unknown("short")))
        .isEqualTo(
            "{\"reference_c\":null,\"operating_c\":null,\"range_c\":null,\"blocks\":null,"
                + "\"dropped_blocks\":null,\"lag_condition\":null,\"axes\":[],\"note\":null,"
                + "\"reason\":\"short\"}");
    assertThat(
            Json.write(
                new Condition(
                    "dwell",
                    false,
                    Condition.Found.of(12.5),
                    Condition.Wanted.above(60),
                    "s",
                    "wait")))
        .isEqualTo(
            "{\"name\":\"dwell\",\"met\":false,\"value\":12.5,\"low\":null,\"high\":null,"
                + "\"limit_low\":60.0,\"limit_high\":null,\"unit\":\"s\",\"reason\":\"wait\"}");
    String unknown = "{\"value\":null,\"reason\":\"short\"}";
    assertThat(Json.write(WarmUpCurve.unknown("short", List.of(1_000_000L))))
        .isEqualTo(
            "{\"plateau_c\":"
                + unknown
                + ",\"start_c\":"
                + unknown
                + ",\"time_constants_s\":[],\"prior_only\":false,\"from\":null,\"to\":null,\"residual_sd_c\":null,"
                + "\"course\":[],\"breaks\":[\"1970-01-01T00:00:01Z\"],\"reason\":\"short\"}");
  }

  @Test
  void timesAreReadBackAsTheyWereWritten() {
    for (long timeUs : new long[] {0, 1, 1_772_352_006_453_123L, -1}) {
      assertThat(Times.parse(Times.text(timeUs))).hasValue(timeUs);
    }
    assertThat(Times.parse("2026-03-01T08:00:00+01:00"))
        .isEqualTo(Times.parse("2026-03-01T07:00:00Z"));
    assertThat(Times.parse("2026-03-01 08:00")).isEmpty();
  }
}
