package soakbench.api.lots;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import soakbench.api.Http;

/** Units that are accepted, looked at again or rejected. */
class ScreeningTest {
  private static LotService service;

  @BeforeAll
  static void store() throws Exception {
    service =
        new LotService(
            new StoredLots(11)
                .lot("Barley-2", 20, 0.009, "window", 2, 1, 8)
                .odd("Barley-2", "Linden", 0.09)
                .lot("Thistle-5", 16, 0.027, "window", 2, 1, 8));
  }

  @AfterAll
  static void close() {
    service.close();
  }

  private static String limits(String metric, Double again, Double reject) {
    return "{\"screening_limits\":[{\"metric\":\"%s\",\"look_again_over\":%s,\"reject_over\":%s}]}"
        .formatted(metric, again, reject);
  }

  private static JsonNode put(String body) {
    return Http.json(
        service.http.send("PUT", "/api/screening-limits", "application/json", body),
        "ScreeningLimits");
  }

  private static JsonNode preview(String lot, String body) {
    return Http.json(
        service.http.send(
            "POST", "/api/lots/" + lot + "/screening-preview", "application/json", body),
        "ScreeningPreview");
  }

  private static int count(JsonNode verdicts, String verdict) {
    return verdicts.get(verdict).asInt();
  }

  @Test
  void limitsArePreviewedOverTheUnitsAndChangeNothingUntilTheyAreSaved() {
    put("{\"screening_limits\":[]}");
    JsonNode seen = preview("Thistle-5", limits("greatest_tempco_dps_per_c", 0.03, 0.04));
    JsonNode verdicts = seen.get("verdicts");
    int reject = count(verdicts, "reject");
    assertThat(reject).isPositive();
    assertThat(count(verdicts, "accept") + count(verdicts, "look_again") + reject).isEqualTo(16);
    assertThat(count(seen.get("verdicts_now"), "reject")).isZero();
    JsonNode worst = seen.get("units").get(0).get("screening");
    assertThat(worst.get("verdict").asText()).isEqualTo("reject");
    assertThat(worst.get("reason").asText())
        .matches("coefficients 0\\.\\d+ \\+- 0\\.\\d+ deg/s per degC, over 0\\.0400.*");
    assertThat(stored()).isEmpty();
    put(limits("greatest_tempco_dps_per_c", 0.03, 0.04));
    JsonNode lot = service.http.json("/api/lots/Thistle-5", "LotWithUnits");
    assertThat(lot.get("verdicts")).isEqualTo(verdicts);
    assertThat(
            lot.get("metrics")
                .get("greatest_tempco_dps_per_c")
                .get("outside")
                .get("limit_high")
                .asDouble())
        .isEqualTo(0.04);
    JsonNode compared =
        service.http.json("/api/lot-comparison?lots=Barley-2,Thistle-5", "LotComparison");
    assertThat(compared.get("advice").get(0).asText()).startsWith("reject ");
    put("{\"screening_limits\":[]}");
    assertThat(stored()).isEmpty();
  }

  private static JsonNode stored() {
    return service.http.json("/api/screening-limits", "ScreeningLimits").get("screening_limits");
  }

  @Test
  void aUnitThatIsLikelyButNotShownToBeOverTheLimitIsLookedAtAgain() {
    JsonNode odd = preview("Barley-2", limits("tempco_x_dps_per_c", null, 0.0905));
    JsonNode linden = unit(odd, "Linden");
    assertThat(linden.get("verdict").asText()).isEqualTo("look again");
    assertThat(linden.get("reason").asText()).contains("may be over 0.0905: one more soak");
    JsonNode over = preview("Barley-2", limits("tempco_x_dps_per_c", null, 0.08));
    assertThat(unit(over, "Linden").get("verdict").asText()).isEqualTo("reject");
  }

  private static JsonNode unit(JsonNode preview, String name) {
    for (JsonNode unit : preview.get("units")) {
      if (unit.get("name").asText().equals(name)) {
        return unit.get("screening");
      }
    }
    throw new AssertionError("no unit " + name + " among those told");
  }

  @Test
  void aUnitThatDoesNotFitItsLotIsNamedWithTheReasonThoughNoLimitIsSet() {
    JsonNode seen = preview("Barley-2", "{\"screening_limits\":[]}");
    assertThat(count(seen.get("verdicts"), "look_again")).isEqualTo(1);
    assertThat(unit(seen, "Linden").get("reason").asText())
        .contains(
            "over 0.0333 by the limits in force", "does not fit its lot: coefficients of x 0.0")
        .contains("where its median is ");
  }

  @Test
  void limitsThatAreWrongAreAllListedAndNothingIsChanged() {
    String body =
        "{\"screening_limits\":[{\"metric\":\"tempco_x_dps_per_c\",\"look_again_over\":0.04,"
            + "\"reject_over\":0.03},{\"metric\":\"tempco_q_dps_per_c\",\"reject_over\":1},"
            + "{\"metric\":\"plateau_c\"},{\"metric\":\"time_constant_s\",\"reject_over\":-1},"
            + "{\"metric\":\"bias_x_dps\",\"reject\":1,\"reject_over\":1},"
            + "{\"metric\":\"bias_y_dps\",\"reject_over\":1},{\"metric\":\"bias_y_dps\",\"reject_over\":2}]}";
    JsonNode problem =
        Http.problem(
            service.http.send("PUT", "/api/screening-limits", "application/json", body),
            422,
            "invalid-content");
    List<String> reasons = new ArrayList<>();
    problem.get("problems").forEach(p -> reasons.add(p.get("reason").asText()));
    assertThat(reasons).hasSize(6);
    assertThat(reasons.get(0))
        .isEqualTo(
            "tempco_x_dps_per_c: the limits stand the wrong way round: look_again_over 0.04 is over"
                + " reject_over 0.03; a unit is looked at again before it is rejected.");
    assertThat(reasons.get(1)).contains("did you mean \"tempco_x_dps_per_c\"?");
    assertThat(reasons.get(2)).contains("give look_again_over, reject_over or both");
    assertThat(reasons.get(3)).contains("reject_over -1.0 must be a number above 0");
    assertThat(reasons.get(4)).contains("There is no reject here; did you mean \"reject_over\"?");
    assertThat(reasons.get(5)).contains("bias_y_dps comes twice");
    assertThat(
            Http.problem(
                    service.http.send("PUT", "/api/screening-limits", "application/json", "[]"),
                    400,
                    "invalid-request")
                .get("detail")
                .asText())
        .contains("Send some like");
  }
}
