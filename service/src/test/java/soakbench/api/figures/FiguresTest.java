package soakbench.api.figures;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import soakbench.api.Http;
import soakbench.api.Lines;
import soakbench.api.Service;
import soakbench.api.soaks.SoakTest;
import soakbench.live.figures.FigureDeriver;

/** Every tracker's figures in one table. */
@ExtendWith(Service.Running.class)
class FiguresTest {
  private static final String ID = "F-kept";
  private static final String YOUNG = "F-young";
  private static final long DAY_US = 86_400_000_000L;

  @BeforeAll
  static void record(Service service) {
    roster(service, ID, "unknown");
    roster(service, YOUNG, "unknown");
    for (int day = 3; day >= 1; day--) {
      SoakTest.send(service, Lines.warmUp(ID, Service.START_US - day * DAY_US, 1800));
    }
    SoakTest.send(service, Lines.warmUp(YOUNG, Service.START_US - DAY_US, 20));
    derive(service);
  }

  private static void roster(Service service, String id, String rates) {
    String body = "{\"name\":\"Kept one\",\"lot\":\"F9\",\"rates\":\"" + rates + "\"}";
    service.http.send("PUT", "/api/trackers/" + id, "application/json", body);
  }

  /** Until nothing more is due, as the running program does every two seconds. */
  private static void derive(Service service) {
    FigureDeriver keeper = new FigureDeriver(service.database.figures());
    while (keeper.deriveOutdated() > 0) {
      continue;
    }
  }

  private static JsonNode row(Service service, String id) {
    for (JsonNode row : service.http.json("/api/figures?lot=F9", "FiguresList").get("figures")) {
      if (row.get("tracker").asText().equals(id)) {
        return row;
      }
    }
    throw new AssertionError("no row of " + id);
  }

  @Test
  void threeSoaksOfATrackerMakeOneRowWithTheTrueCoefficient(Service service) {
    JsonNode row = row(service, ID);
    assertThat(row.get("soaks").asInt()).isEqualTo(3);
    assertThat(row.get("soaks_used").asInt()).isEqualTo(3);
    assertThat(row.get("name").asText()).isEqualTo("Kept one");
    JsonNode x = row.get("axes").get(0);
    // The three have the same noise, so their mean is as far off as each of them.
    assertThat(x.get("tempco_dps_per_c").get("value").asDouble()).isCloseTo(0.02, within(1e-3));
    // Most of it is what all three repeat: the lag and the power left out.
    assertThat(x.get("tempco_dps_per_c").get("se").asDouble()).isBetween(1e-6, 1e-3);
    assertThat(x.get("turn_on_dps").get("high").asDouble()).isLessThan(0.02);
    assertThat(row.get("time_constant_s").get("value").asDouble()).isCloseTo(400, within(20.0));
  }

  @Test
  void aSoakTooShortForAnythingHasAReasonForEveryFigure(Service service) {
    JsonNode x = row(service, YOUNG).get("axes").get(0);
    for (String figure : List.of("bias_dps", "tempco_dps_per_c", "span_dps", "turn_on_dps")) {
      assertThat(x.get(figure).get("value").isNull()).as(figure).isTrue();
      assertThat(x.get(figure).get("reason").asText()).as(figure).isNotBlank();
    }
  }

  @Test
  void theTableHasFourColumnsForEachFigureAndARowForEachTracker(Service service) {
    String csv = Http.csv(service.http.get("/api/figures.csv?lot=F9"));
    List<String> rows = csv.lines().toList();
    List<String> names = Arrays.asList(rows.get(0).split(","));
    assertThat(names)
        .startsWith("tracker", "name", "lot", "soaks", "soaks_used", "soak", "as_of", "ended")
        .contains("tempco_x_dps_per_c", "tempco_x_dps_per_c_se", "tempco_x_dps_per_c_low")
        .contains("turn_on_z_dps_high", "angle_random_walk_y_deg_per_sqrt_h")
        .doesNotHaveDuplicates();
    assertThat(rows).hasSize(3);
    String[] kept = rows.get(1).split(",", -1);
    assertThat(kept).hasSize(names.size());
    assertThat(kept[0]).isEqualTo(ID);
    assertThat(Double.parseDouble(kept[names.indexOf("tempco_x_dps_per_c")]))
        .isCloseTo(0.02, within(0.002));
    assertThat(Http.csv(service.http.get("/api/figures.csv?lot=nowhere")).lines()).hasSize(1);
  }

  @Test
  void theLongShapeHasARowForEachFigureWithItsUnitAndReason(Service service) {
    List<String> rows =
        Http.csv(service.http.get("/api/figures.csv?lot=F9&shape=long")).lines().toList();
    assertThat(rows.get(0)).isEqualTo("id,axis,figure,value,low,high,unit,reason");
    String[] tempco = rowOf(rows, ID + ",x,tempco_dps_per_c,").split(",", -1);
    assertThat(Double.parseDouble(tempco[3])).isCloseTo(0.02, within(0.002));
    assertThat(Double.parseDouble(tempco[4])).isLessThan(Double.parseDouble(tempco[3]));
    assertThat(Double.parseDouble(tempco[5])).isGreaterThan(Double.parseDouble(tempco[3]));
    assertThat(tempco[6]).isEqualTo("deg/s per degC");
    assertThat(rowOf(rows, ID + ",,time_constant_s,")).endsWith(",s,");
    assertThat(rowOf(rows, ID + ",z,residual_sd_dps,0.0")).contains(",,,deg/s,");
    assertThat(rowOf(rows, YOUNG + ",y,turn_on_dps,,,,deg/s,"))
        .as("not known, and why")
        .doesNotEndWith("deg/s,");
    JsonNode figures =
        service.http.json("/api/figures?lot=F9&shape=long", "FiguresList").get("figures");
    assertThat(figures).hasSize(rows.size() - 1);
    Http.problem(service.http.get("/api/figures?shape=tall"), 400, "invalid-request");
  }

  @Test
  void aFigureBeyondTheTemperaturesOfItsSoaksSaysSoInItsRow(Service service) {
    List<String> rows =
        Http.csv(service.http.get("/api/figures.csv?lot=F9&shape=long&at_c=60")).lines().toList();
    assertThat(rowOf(rows, ID + ",x,bias_dps,")).contains("beyond the temperatures");
    assertThat(rowOf(rows, ID + ",x,span_dps,")).doesNotContain("beyond");
  }

  private static String rowOf(List<String> rows, String beginning) {
    return rows.stream().filter(r -> r.startsWith(beginning)).findFirst().orElseThrow();
  }

  @Test
  void oneTrackerIsToldSoakBySoakAndItsCurvesAreCompared(Service service) {
    JsonNode told = service.http.json("/api/trackers/" + ID + "/figures", "TrackerFigures");
    assertThat(told.get("soaks")).hasSize(3);
    assertThat(told.get("curves")).hasSize(2);
    JsonNode newest = told.get("curves").get(0);
    assertThat(newest.get("at_c").asDouble())
        .isEqualTo(told.get("together").get("operating_c").asDouble(), within(0.01));
    JsonNode x = newest.get("axes").get(0);
    assertThat(Math.abs(x.get("tempco_difference_dps_per_c").get("value").asDouble()))
        .isLessThan(0.001);
    assertThat(Math.abs(x.get("greatest_dps").get("value").asDouble())).isLessThan(0.02);
    JsonNode gravity = told.get("soaks").get(0).get("figures").get("resting_g");
    assertThat(gravity.get(2).asDouble()).isCloseTo(1, within(0.001));
  }

  @Test
  void allFiguresAreGivenAtOneTemperatureAndBeyondWhatWasCoveredTheyAreMarkedAndWider(
      Service service) {
    JsonNode own = row(service, ID);
    JsonNode at28 = at(service, "28");
    assertThat(at28.get("operating_c").asDouble()).isEqualTo(28);
    assertThat(at28.get("extrapolated").asBoolean()).isFalse();
    assertThat(at28.get("soaks_used").asInt()).isEqualTo(3);
    assertThat(at28.get("soaks_not_used")).isEmpty();
    double ownC = own.get("operating_c").asDouble();
    double rise = biasX(own).get("value").asDouble() - biasX(at28).get("value").asDouble();
    assertThat(rise).isCloseTo(0.02 * (ownC - 28), within(0.003));
    JsonNode at45 = at(service, "45");
    assertThat(at45.get("extrapolated").asBoolean()).isTrue();
    assertThat(at45.get("soaks_used").asInt()).isEqualTo(3);
    assertThat(biasX(at45).get("se").asDouble())
        .isGreaterThan(20 * biasX(at28).get("se").asDouble());
    assertThat(biasX(at45).get("low").asDouble()).isLessThan(0.3 + 0.02 * 15);
    assertThat(biasX(at45).get("high").asDouble()).isGreaterThan(0.3 + 0.02 * 15);
    String csv = Http.csv(service.http.get("/api/figures.csv?lot=F9&at_c=45"));
    assertThat(csv.lines().toList().get(1)).contains(",45.00000,true,");
  }

  private static JsonNode at(Service service, String celsius) {
    return service
        .http
        .json("/api/trackers/" + ID + "/figures?at_c=" + celsius, "TrackerFigures")
        .get("together");
  }

  private static JsonNode biasX(JsonNode row) {
    return row.get("axes").get(0).get("bias_dps");
  }

  @Test
  void aTemperatureThatIsNoneOrTooFarIsRefused(Service service) {
    for (String celsius : List.of("warm", "500", "-80", "3e1", "31,5")) {
      for (String path : List.of("/api/figures?at_c=", "/api/trackers/" + ID + "/figures?at_c=")) {
        JsonNode problem = Http.problem(service.http.get(path + celsius), 400, "invalid-request");
        assertThat(problem.get("problems").get(0).get("field").asText()).isEqualTo("at_c");
        assertThat(problem.get("detail").asText()).contains("from -40 to 125 degC");
      }
    }
  }

  @Test
  void soaksThatAreNotUsedAreListedWithTheReason(Service service) {
    JsonNode young = row(service, YOUNG);
    assertThat(young.get("soaks_used").asInt()).isZero();
    assertThat(young.get("soaks_not_used")).hasSize(1);
    assertThat(young.get("soaks_not_used").get(0).get("reason").asText()).startsWith("no curve");
    assertThat(young.get("operating_c").isNull()).isTrue();
  }

  /** As a band of one soak's curve: that many standard errors from the covariance told with it. */
  @Test
  void aTrackersCurveIsThatOfAllItsSoaksWithOneCovariance(Service service) {
    String path = "/api/trackers/" + ID + "/bias-curve";
    JsonNode curve = service.http.json(path + "?low_c=20&points=9", "BiasCurve");
    assertThat(curve.get("note").asText()).startsWith("of 3 of 3 soaks together");
    JsonNode x = curve.get("axes").get(0);
    assertThat(x.get("tempco_dps_per_c").get("value").asDouble()).isCloseTo(0.02, within(1e-3));
    for (JsonNode band : x.get("bands")) {
      double u = band.get("temperature_c").asDouble() - curve.get("reference_c").asDouble();
      double variance = 0;
      for (int i = 0; i < x.get("covariance").size(); i++) {
        for (int j = 0; j < x.get("covariance").size(); j++) {
          variance += Math.pow(u, i + j) * x.get("covariance").get(i).get(j).asDouble();
        }
      }
      double half = x.get("limits_se").asDouble() * Math.sqrt(variance);
      assertThat(band.get("confidence_high_dps").asDouble() - band.get("bias_dps").asDouble())
          .isCloseTo(half, within(1e-9 + 1e-6 * half));
    }
    assertThat(x.get("bands").get(0).get("extrapolated").asBoolean()).isTrue();
    assertThat(Http.csv(service.http.get(path + ".csv?points=5")).lines()).hasSize(16);
    String header = service.http.get(path + ".h").body();
    assertThat(header)
        .contains("of F-kept, from its 3 soaks.")
        .contains("static const float soakbench_standard_error_dps[3][SOAKBENCH_POINTS]");
    Http.problem(service.http.get("/api/trackers/" + YOUNG + "/bias-curve.h"), 409, "no-curve");
    Http.problem(service.http.get("/api/trackers/F-none/bias-curve"), 404, "unknown-tracker");
  }

  @Test
  void aTrackerWithoutFiguresIsToldSo(Service service) {
    assertThat(service.http.get("/api/trackers/F-none/figures").statusCode()).isEqualTo(404);
  }

  @Test
  void whatChangesASoakChangesItsFigures(Service service) {
    String id = "F-changes";
    roster(service, id, "unknown");
    long startUs = Service.START_US - 5 * DAY_US;
    SoakTest.send(service, Lines.warmUp(id, startUs, 1500));
    derive(service);
    assertThat(row(service, id).get("axes").get(0).get("tempco_dps_per_c").get("value").isNull())
        .isFalse();
    // Somebody tells that its firmware corrects the rates: there is no curve to be had.
    roster(service, id, "follows");
    derive(service);
    JsonNode hidden = row(service, id).get("axes").get(0).get("tempco_dps_per_c");
    assertThat(hidden.get("value").isNull()).isTrue();
    assertThat(row(service, id).get("ended").isNull()).isTrue();
    roster(service, id, "raw");
    service.http.send("POST", "/api/soaks/" + SoakTest.soakOf(service, id) + "/end", null, "");
    derive(service);
    JsonNode after = row(service, id);
    assertThat(after.get("ended").asText()).isEqualTo("taken_off");
    assertThat(after.get("axes").get(0).get("tempco_dps_per_c").get("value").isNull()).isFalse();
  }
}
