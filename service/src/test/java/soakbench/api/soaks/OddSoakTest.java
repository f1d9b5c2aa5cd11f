package soakbench.api.soaks;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.Locale;
import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import soakbench.api.Http;
import soakbench.api.Service;
import soakbench.api.http.Times;
import soakbench.live.figures.FigureDeriver;

/** Soaks that can't show a figure answer its reason over HTTP, and no number. */
@ExtendWith(Service.Running.class)
class OddSoakTest {
  private static final DoubleUnaryOperator WARMING = t -> 31 - 8 * Math.exp(-t / 400);
  private static final DoubleUnaryOperator QUIET = t -> 0;

  /** One line's three rates at a time in seconds, as JSON. */
  private interface Rates {
    String at(double t, double temperatureC, Random noise);
  }

  private static Rates usual(DoubleUnaryOperator x) {
    return (t, c, noise) ->
        String.format(
            Locale.ROOT,
            "%.4f,%.4f,%.4f",
            0.3 + 0.02 * (c - 30) + x.applyAsDouble(t) + 0.03 * noise.nextGaussian(),
            -0.1 + 0.03 * noise.nextGaussian(),
            0.05 + 0.03 * noise.nextGaussian());
  }

  private static String record(
      Service service,
      String id,
      int seconds,
      double rateHz,
      DoubleUnaryOperator temperatureC,
      Rates rates) {
    Random noise = new Random(20260302);
    StringBuilder lines = new StringBuilder();
    long startUs = Service.START_US - 6 * 3_600_000_000L;
    for (int i = 0; i < seconds * rateHz; i++) {
      double t = i / rateHz;
      double c = temperatureC.applyAsDouble(t);
      String line =
          "{\"id\":\"%s\",\"time\":\"%s\",\"temp_c\":%.2f,\"gyro_dps\":[%s]}%n"
              .formatted(id, Times.text(startUs + Math.round(t * 1e6)), c, rates.at(t, c, noise));
      lines.append(line);
    }
    SoakTest.send(service, lines.toString());
    FigureDeriver keeper = new FigureDeriver(service.database.figures());
    while (keeper.deriveOutdated() > 0) {
      continue;
    }
    return "/api/soaks/" + SoakTest.soakOf(service, id);
  }

  private static JsonNode axis(JsonNode figure, int axis) {
    return figure.get("axes").get(axis);
  }

  private static void reason(JsonNode estimate, String word) {
    assertThat(estimate.get("value").isNull()).as(estimate.toString()).isTrue();
    assertThat(estimate.get("reason").asText()).contains(word);
  }

  private static JsonNode kept(Service service, String id) {
    return service.http.json("/api/trackers/" + id + "/figures", "TrackerFigures").get("together");
  }

  @Test
  void oneTemperatureThroughoutHasNoWarmUpNoCurveAndNoHeading(Service service) {
    String id = "O-flat";
    String soak = record(service, id, 1200, 10, t -> 30.5, usual(QUIET));
    assertThat(service.http.json(soak + "/warm-up", "WarmUp").get("reason").asText())
        .contains("did not change");
    JsonNode curve = service.http.json(soak + "/bias-curve", "BiasCurve");
    assertThat(curve.get("reason").asText()).contains("temperature");
    JsonNode heading = service.http.json(soak + "/heading", "Heading");
    reason(heading.get("deg_per_min"), "temperature");
    reason(heading.get("minutes_to_5_deg"), "temperature");
    // Its noise needs no change of temperature.
    JsonNode x = axis(service.http.json(soak + "/noise", "Noise"), 0);
    assertThat(x.get("angle_random_walk_deg_per_sqrt_h").get("value").isNumber()).isTrue();
    reason(kept(service, id).get("axes").get(0).get("tempco_dps_per_c"), "temperature");
  }

  @Test
  void twoMinutesTellNothingButWhy(Service service) {
    String id = "O-short";
    String soak = record(service, id, 120, 10, WARMING, usual(QUIET));
    JsonNode curve = service.http.json(soak + "/bias-curve", "BiasCurve");
    assertThat(curve.get("reason").asText()).isNotBlank();
    JsonNode noise = service.http.json(soak + "/noise", "Noise");
    if (noise.get("reason").isNull()) {
      reason(axis(noise, 0).get("bias_instability_deg_per_h"), "not resolved");
    }
    reason(service.http.json(soak + "/heading", "Heading").get("deg_per_min"), "");
    JsonNode axis = kept(service, id).get("axes").get(0);
    reason(axis.get("tempco_dps_per_c"), "");
    reason(axis.get("turn_on_dps"), "");
  }

  @Test
  void aTrackerThatIsMovedAllTheTimeHasNoBias(Service service) {
    String id = "O-moved";
    Rates hand =
        (t, c, noise) ->
            String.format(
                Locale.ROOT,
                "%.3f,%.3f,%.3f",
                60 * Math.sin(2 * t) + 20 * noise.nextGaussian(),
                40 * Math.cos(3 * t) + 20 * noise.nextGaussian(),
                50 * Math.sin(t) + 20 * noise.nextGaussian());
    String soak = record(service, id, 900, 10, WARMING, hand);
    assertThat(service.http.json(soak + "/bias-curve", "BiasCurve").get("reason").asText())
        .contains("still");
    assertThat(service.http.json(soak + "/noise", "Noise").get("reason").asText())
        .contains("still");
    reason(service.http.json(soak + "/heading", "Heading").get("deg_per_min"), "still");
    reason(kept(service, id).get("axes").get(2).get("bias_dps"), "still");
  }

  @Test
  void aDeadAxisHasItsReasonAndTheOthersTheirFigures(Service service) {
    String id = "O-dead";
    Rates dead = (t, c, noise) -> usual(QUIET).at(t, c, noise).replaceAll(",[^,]*$", ",0");
    String soak = record(service, id, 1500, 10, WARMING, dead);
    JsonNode curve = service.http.json(soak + "/bias-curve", "BiasCurve");
    assertThat(axis(curve, 0).get("tempco_dps_per_c").get("value").isNumber()).isTrue();
    assertThat(axis(curve, 2).get("reason").asText()).isNotBlank();
    JsonNode axes = kept(service, id).get("axes");
    assertThat(axes.get(0).get("tempco_dps_per_c").get("value").isNumber()).isTrue();
    reason(axes.get(2).get("tempco_dps_per_c"), "");
    reason(axes.get(2).get("angle_random_walk_deg_per_sqrt_h"), "");
  }

  @Test
  void aLineInFiveSecondsIsTooSlowToSeeMotion(Service service) {
    String soak = record(service, "O-slow", 3600, 0.2, WARMING, usual(QUIET));
    assertThat(service.http.json(soak + "/bias-curve", "BiasCurve").get("reason").asText())
        .contains("too slow");
    assertThat(service.http.json(soak + "/noise", "Noise").get("reason").asText())
        .contains("too slow");
    reason(service.http.json(soak + "/heading", "Heading").get("deg_per_min"), "too slow");
    reason(kept(service, "O-slow").get("axes").get(0).get("tempco_dps_per_c"), "too slow");
  }

  @Test
  void aSpectralLineIsNotTakenForWhiteNoise(Service service) {
    DoubleUnaryOperator hum = t -> 0.06 * Math.sin(2 * Math.PI * 0.09 * t);
    String soak = record(service, "O-line", 1800, 10, t -> 30.5, usual(hum));
    JsonNode noise = service.http.json(soak + "/noise", "Noise");
    reason(axis(noise, 0).get("bias_instability_deg_per_h"), "spectral line");
    assertThat(axis(noise, 0).get("note").asText()).contains("scatter within seconds", "line");
    assertThat(axis(noise, 1).get("note").isNull()).isTrue();
    assertThat(axis(noise, 1).get("angle_random_walk_deg_per_sqrt_h").get("value").isNumber())
        .isTrue();
  }

  @Test
  void aChosenTemperatureOutsideTheRangeHasAReasonAndNoNumber(Service service) {
    String soak = record(service, "O-range", 1500, 10, WARMING, usual(QUIET));
    for (String ask : new String[] {"?use_c=45", "?from_c=5"}) {
      JsonNode heading = service.http.json(soak + "/heading" + ask, "Heading");
      reason(heading.get("deg_per_min"), "outside");
      reason(heading.get("minutes_to_5_deg"), "outside");
    }
    Http.problem(service.http.get(soak + "/heading?use_c=400"), 400, "invalid-request");
  }
}
