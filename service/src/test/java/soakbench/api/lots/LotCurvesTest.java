package soakbench.api.lots;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.List;
import org.hipparchus.stat.StatUtils;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import soakbench.api.Http;
import soakbench.lots.statistics.ToleranceInterval;

/** Curves of lots' units over HTTP, to be drawn over one another. */
class LotCurvesTest {
  private static final int UNITS = 8;

  private static LotService service;

  @BeforeAll
  static void store() throws Exception {
    service =
        new LotService(
            new StoredLots(5)
                .lot("Barley-2", UNITS, 0.009, "window", 1, 1)
                .lot("Tansy-4", 3, 0.009, "window", 1, 1)
                .lot("Many-9", 101, 0.009, "window", 1, 1));
  }

  @AfterAll
  static void close() {
    service.close();
  }

  private static JsonNode curves(String query) {
    return service.http.json("/api/lot-curves?" + query, "LotCurves");
  }

  private static JsonNode axisX(JsonNode unit) {
    return unit.get("bias").get("axes").get(0).get("difference_dps");
  }

  @Test
  void aUnitsCurveIsZeroAtTheCommonTemperatureAndHasItsOwnSlope() {
    JsonNode curves = curves("lots=Barley-2&points=9");
    assertThat(curves.get("zero_at_c").asDouble()).as("where all were measured").isEqualTo(31);
    assertThat(curves.get("temperatures_c")).hasSize(9);
    assertThat(curves.get("temperatures_c").get(0).asDouble()).isEqualTo(24);
    assertThat(curves.get("temperatures_c").get(8).asDouble()).isEqualTo(32);
    JsonNode lot = service.http.json("/api/lots/Barley-2", "LotWithUnits");
    for (int i = 0; i < UNITS; i++) {
      JsonNode difference = axisX(curves.get("lots").get(0).get("units").get(i));
      double slope =
          lot.get("units").get(i).get("values").get("tempco_x_dps_per_c").get("value").asDouble();
      assertThat(difference.get(7).asDouble()).isZero();
      assertThat(difference.get(0).asDouble()).isCloseTo(-7 * slope, within(2e-6));
      assertThat(difference.get(8).asDouble()).isCloseTo(slope, within(2e-6));
    }
  }

  @Test
  void theBandIsTheToleranceIntervalOfTheUnitsAtEachTemperature() {
    JsonNode lot = curves("lots=Barley-2&points=9").get("lots").get(0);
    List<Double> values = new ArrayList<>();
    lot.get("units").forEach(unit -> values.add(axisX(unit).get(0).asDouble()));
    double[] at24 = values.stream().mapToDouble(Double::doubleValue).toArray();
    double half = ToleranceInterval.factor(UNITS, 0.95, 0.95) * Math.sqrt(StatUtils.variance(at24));
    JsonNode band = lot.get("tolerance_bands").get(0);
    assertThat(band.get("high_dps").get(0).asDouble())
        .isCloseTo(StatUtils.mean(at24) + half, within(1e-5));
    assertThat(band.get("low_dps").get(0).asDouble())
        .isCloseTo(StatUtils.mean(at24) - half, within(1e-5));
    JsonNode few = curves("lots=Tansy-4").get("lots").get(0).get("tolerance_bands").get(0);
    assertThat(few.get("reason").asText()).isEqualTo("needs 6 units; there are 3");
    assertThat(few.get("low_dps").get(0).isNull()).isTrue();
  }

  @Test
  void aCurveIsNotToldAgainstATemperatureThatItsSoakNeverCovered() {
    JsonNode unit = curves("lots=Tansy-4&at_c=40").get("lots").get(0).get("units").get(0);
    assertThat(unit.get("bias").get("axes")).isEmpty();
    assertThat(unit.get("bias").get("reason").asText())
        .isEqualTo("it covered 24.0 to 32.0 degC, not 40.0 degC");
  }

  @Test
  void aWarmUpIsTheShareOfTheWayToThePlateauThatWasMeasured() {
    JsonNode curves = curves("lots=Barley-2&points=61&minutes=60");
    assertThat(curves.get("minutes").get(10).asDouble()).isEqualTo(10);
    JsonNode warmUp = curves.get("lots").get(0).get("units").get(0).get("warm_up");
    JsonNode shares = warmUp.get("shares");
    double riseC = warmUp.get("plateau_c").asDouble() - 22;
    double expected = 9.5 * (1 - Math.exp(-600 / StoredLots.TIME_CONSTANT_S)) / riseC;
    assertThat(shares.get(10).asDouble()).isCloseTo(expected, within(1e-4));
    assertThat(shares.get(0).asDouble()).isZero();
    assertThat(shares.get(29).isNull()).isFalse();
    assertThat(shares.get(30).isNull()).as("it was taken off").isTrue();
  }

  @Test
  void ofAGreatLotAHundredUnitsAreGivenAndTheRestIsCounted() {
    JsonNode lot = curves("lots=Many-9&points=5").get("lots").get(0);
    assertThat(lot.get("units")).hasSize(100);
    assertThat(lot.get("left_off").asInt()).isEqualTo(1);
  }

  @Test
  void whatCantBeDrawnIsRefusedWithTheReason() {
    assertThat(
            Http.problem(service.http.get("/api/lot-curves?lots=Barly-2"), 400, "invalid-request")
                .toString())
        .contains("did you mean \\\"Barley-2\\\"?");
    Http.problem(
        service.http.get("/api/lot-curves?lots=Barley-2&points=1"), 400, "invalid-request");
    Http.problem(service.http.get("/api/lot-curves"), 400, "invalid-request");
  }
}
