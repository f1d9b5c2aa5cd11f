package soakbench.api.calibrations;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import soakbench.api.Http;
import soakbench.api.Lines;
import soakbench.api.Service;
import soakbench.api.http.Times;
import soakbench.api.soaks.SoakTest;
import soakbench.demo.lines.LineBuffer;
import soakbench.demo.simulation.HandlingRuns;
import soakbench.demo.simulation.Recipe;
import soakbench.demo.simulation.SimulatedTracker;
import soakbench.demo.unit.Correction;
import soakbench.demo.unit.Handling;

/** Calibrations seen, told, undone and checked, over HTTP and a real database. */
@ExtendWith(Service.Running.class)
class CalibrationTest {
  private static final Correction NONE = Correction.NONE;
  private static final long START_S = 1_767_254_400L;

  /** Sends a simulated handling under another id, and derives what is due. */
  private static Handling record(Service service, String id, Recipe recipe, String rates) {
    roster(service, id, rates);
    SoakTest.send(service, lines(recipe, id));
    derive(service);
    return recipe.events().handlings().get(0);
  }

  private static String lines(Recipe recipe, String id) {
    SimulatedTracker tracker = new SimulatedTracker(recipe);
    LineBuffer line = new LineBuffer();
    StringBuilder all = new StringBuilder();
    while (tracker.nextUs() != Long.MAX_VALUE) {
      tracker.next(line);
      all.append(
          new String(line.bytes(), 0, line.length(), java.nio.charset.StandardCharsets.UTF_8));
      line.clear();
    }
    return all.toString().replace("\"" + recipe.unit().id() + "\"", "\"" + id + "\"");
  }

  private static void roster(Service service, String id, String rates) {
    String body = "{\"name\":\"Unit " + id + "\",\"lot\":\"K1\",\"rates\":\"" + rates + "\"}";
    service.http.send("PUT", "/api/trackers/" + id, "application/json", body);
  }

  private static void derive(Service service) {
    while (service.server.calibrations().deriveOutdated() == 20) {
      continue;
    }
  }

  private static JsonNode marks(Service service, String id) {
    return service
        .http
        .json("/api/trackers/" + id + "/calibrations", "CalibrationList")
        .get("calibrations");
  }

  private static JsonNode told(Service service, String id, String body) {
    return Http.json(
        service.http.send("POST", calls(id), body.isEmpty() ? null : "application/json", body),
        "Calibration");
  }

  private static String calls(String id) {
    return "/api/trackers/" + id + "/calibrations";
  }

  private static int undo(Service service, String id, String at) {
    return service.http.send("DELETE", calls(id) + "/" + at, null, "").statusCode();
  }

  private static Recipe sixPoses(long seed, boolean accelerometer, boolean reboot) {
    return HandlingRuns.of(Handling.Kind.SIX_POSES, seed, accelerometer, reboot, NONE);
  }

  @Test
  void aCalibrationMarksItselfAndIsCheckedWithoutAnybodySayingSo(Service service) {
    Handling truth = record(service, "K-seen", sixPoses(11, true, true), "raw");
    JsonNode marks = marks(service, "K-seen");
    assertThat(marks).hasSize(1);
    JsonNode mark = marks.get(0);
    assertThat(mark.get("status").asText()).isEqualTo("mark");
    assertThat(mark.get("origin").asText()).isEqualTo("seen");
    assertThat(mark.get("faces").asInt()).isEqualTo(6);
    assertThat(mark.get("rebooted").asBoolean()).isTrue();
    assertThat(second(mark.get("lifted"))).isCloseTo(truth.fromS(), within(3.0));
    assertThat(second(mark.get("laid"))).isCloseTo(truth.toS(), within(4.0));
    assertThat(mark.get("state_before").asText()).isNotEqualTo("disturbed");
    JsonNode check = mark.get("check");
    assertThat(check.get("residual_dps")).hasSize(3);
    assertThat(check.get("verdict").asText()).isIn("keep", "do_again", "unknown");
    assertThat(check.get("deg_per_min").get("low").isNumber()).isTrue();
    assertThat(check.get("reason").asText()).contains("deg/min");
    assertThat(second(check.get("to")) - second(check.get("from"))).isCloseTo(60, within(1.5));
    assertThat(newest(service, "")).containsOnlyOnce("K-seen").doesNotHaveDuplicates();
    assertThat(newest(service, "?undone=true")).containsOnlyOnce("K-seen").doesNotHaveDuplicates();
  }

  /** The trackers of the marks that are the newest. */
  private static List<String> newest(Service service, String query) {
    return service
        .http
        .json("/api/calibrations" + query, "CalibrationList")
        .get("calibrations")
        .findValuesAsText("tracker");
  }

  private static double second(JsonNode time) {
    return Times.parse(time.asText()).orElseThrow() / 1e6 - START_S;
  }

  @Test
  void whatIsUndoneStaysUndoneThroughLateSamplesAndComesBackWhenToldAgain(Service service) {
    Recipe recipe = sixPoses(12, true, true);
    String id = "K-undone";
    roster(service, id, "raw");
    List<String> all = lines(recipe, id).lines().toList();
    StringBuilder first = new StringBuilder();
    StringBuilder late = new StringBuilder();
    for (int i = 0; i < all.size(); i++) {
      (i > 500 && i < 540 ? late : first).append(all.get(i)).append('\n');
    }
    SoakTest.send(service, first.toString());
    derive(service);
    JsonNode mark = marks(service, id).get(0);
    String at = mark.get("at").asText();
    assertThat(undo(service, id, at)).isEqualTo(204);
    assertThat(marks(service, id).get(0).get("status").asText()).isEqualTo("undone");
    assertThat(undo(service, id, at)).as("undone already").isEqualTo(404);
    assertThat(newest(service, "")).doesNotContain(id);
    assertThat(newest(service, "?undone=true")).containsOnlyOnce(id);

    SoakTest.send(service, late.toString());
    service.watch.settle();
    roster(service, id, "constant");
    derive(service);
    JsonNode again = marks(service, id);
    assertThat(again).hasSize(1);
    assertThat(again.get(0).get("status").asText()).isEqualTo("undone");
    assertThat(again.get(0).get("check").isNull()).isTrue();

    JsonNode back = told(service, id, "{\"at\":\"" + at + "\"}");
    assertThat(back.get("status").asText()).isEqualTo("mark");
    assertThat(back.get("origin").asText()).isEqualTo("seen");
    assertThat(back.get("check").get("rates").asText()).isEqualTo("constant");
    String soaks = service.http.get("/api/soaks?tracker=" + id).body();
    assertThat(soaks).contains(mark.get("soak").asText());
  }

  @Test
  void withoutAnAccelerometerARebootAsksAndOneTapAnswers(Service service) {
    record(service, "K-asked", sixPoses(24, false, true), "raw");
    JsonNode question = marks(service, "K-asked").get(0);
    assertThat(question.get("status").asText()).isEqualTo("question");
    assertThat(question.get("check").isNull()).isTrue();
    String at = question.get("at").asText();
    JsonNode mark = told(service, "K-asked", "{\"at\":\"" + at + "\"}");
    assertThat(mark.get("status").asText()).isEqualTo("mark");
    assertThat(mark.get("check").get("verdict").asText()).isIn("keep", "do_again", "unknown");
    assertThat(marks(service, "K-asked")).hasSize(1);

    record(service, "K-asked-no", sixPoses(14, false, true), "raw");
    String no = marks(service, "K-asked-no").get(0).get("at").asText();
    assertThat(undo(service, "K-asked-no", no)).isEqualTo(204);
    assertThat(marks(service, "K-asked-no").get(0).get("status").asText()).isEqualTo("undone");
  }

  @Test
  void aHandlingThatShowsNothingIsAMarkWhenSomebodySaysSo(Service service) {
    Handling truth = record(service, "K-told", sixPoses(15, false, false), "raw");
    assertThat(marks(service, "K-told")).isEmpty();
    // Somebody says it two minutes after it was laid down.
    String at = Times.text((long) ((START_S + truth.toS() + 120) * 1e6) / 1_000_000 * 1_000_000);
    JsonNode mark = told(service, "K-told", "{\"at\":\"" + at + "\"}");
    assertThat(mark.get("origin").asText()).isEqualTo("told");
    assertThat(second(mark.get("lifted"))).isCloseTo(truth.fromS(), within(3.0));
    assertThat(mark.get("check").get("verdict").asText()).isIn("keep", "do_again", "unknown");
    assertThat(told(service, "K-told", "{\"at\":\"" + at + "\"}").get("at").asText())
        .isEqualTo(mark.get("at").asText());
    assertThat(marks(service, "K-told")).hasSize(1);
    assertThat(
            service
                .http
                .json(calls("K-told") + "/" + mark.get("at").asText(), "Calibration")
                .get("tracker")
                .asText())
        .isEqualTo("K-told");
  }

  @Test
  void aTrackerThatIsCalibratedAsItLiesIsCheckedByTheMinuteAfterTheWord(Service service) {
    String id = "K-lying";
    roster(service, id, "raw");
    List<String> lines = Lines.warmUp(id, START_S * 1_000_000L, 700).lines().toList();
    SoakTest.send(service, String.join("\n", lines.subList(0, 6_000)) + "\n");
    JsonNode mark = told(service, id, "");
    assertThat(mark.get("origin").asText()).isEqualTo("told");
    assertThat(mark.get("check").isNull()).isTrue();
    assertThat(mark.get("check_reason").asText()).startsWith("not known yet");
    SoakTest.send(service, String.join("\n", lines.subList(6_000, 7_000)) + "\n");
    // What is under way is looked at every two seconds.
    org.awaitility.Awaitility.await()
        .atMost(java.time.Duration.ofSeconds(60))
        .until(
            () -> {
              derive(service);
              return !marks(service, id).get(0).get("check").isNull();
            });
    JsonNode checked = marks(service, id).get(0);
    assertThat(checked.get("lifted")).isEqualTo(checked.get("laid"));
    assertThat(second(checked.get("check").get("from")))
        .isGreaterThanOrEqualTo(second(checked.get("at")));
    // It lay 1.4 degC below the temperature in use, at 0.02 deg/s for each degC.
    JsonNode check = checked.get("check");
    assertThat(check.get("verdict_now").asText()).isEqualTo("keep");
    assertThat(check.get("deg_per_min_in_use").get("value").asDouble()).isCloseTo(2.0, within(0.5));
    assertThat(check.get("verdict").asText()).isEqualTo("do_again");
    assertThat(check.get("how").asText()).startsWith("warmer");
    assertThat(undo(service, id, checked.get("at").asText())).isEqualTo(204);
    assertThat(marks(service, id).get(0).get("status").asText()).isEqualTo("undone");
  }

  @Test
  void headingStartsFromAMarkOrSaysWhyItCanNot(Service service) {
    String id = "K-heading";
    record(service, id, sixPoses(17, true, true), "raw");
    JsonNode mark = marks(service, id).get(0);
    String at = mark.get("at").asText();
    String heading = "/api/soaks/" + mark.get("soak").asText() + "/heading";
    String use = "&use_c=" + Math.round(mark.get("temperature_c").asDouble() - 1);
    JsonNode fromMark = service.http.json(heading + "?mark=" + at + use, "Heading");
    assertThat(fromMark.get("calibrated_c")).isEqualTo(mark.get("temperature_c"));
    assertThat(fromMark.get("deg_per_min").get("low").isNumber()).isTrue();
    assertThat(service.http.json(heading + "?mark=newest" + use, "Heading")).isEqualTo(fromMark);

    assertThat(noHeading(service, heading + "?mark=2030-01-01T00:00:00Z")).contains("no mark of");
    assertThat(noHeading(service, heading + "?mark=2020-01-01T00:00:00Z")).contains("no mark of");
    assertThat(noHeading(service, heading + "?mark=noon")).contains("must be a time");
    assertThat(noHeading(service, heading + "?mark=newest&from_c=30")).contains("leave one out");
    assertThat(undo(service, id, at)).isEqualTo(204);
    assertThat(noHeading(service, heading + "?mark=" + at)).contains("undone");
    assertThat(noHeading(service, heading + "?mark=newest")).contains("no calibration mark yet");
  }

  private static String noHeading(Service service, String path) {
    return Http.problem(service.http.get(path), 400, "invalid-request").get("detail").asText();
  }

  @Test
  void somethingElseIsNoCalibration(Service service) {
    for (Handling.Kind kind :
        List.of(Handling.Kind.PICKED_UP, Handling.Kind.DROPPED, Handling.Kind.BATTERY_CHANGED)) {
      String id = "K-" + kind.word();
      record(service, id, HandlingRuns.of(kind, 21, true, true, NONE), "raw");
      assertThat(marks(service, id)).as(id).isEmpty();
    }
  }

  @Test
  void aTimeThatCanNotBeIsRefusedWithItsReason(Service service) {
    record(service, "K-bad", HandlingRuns.of(Handling.Kind.PICKED_UP, 31, true, true, NONE), "raw");
    String future = "{\"at\":\"2030-01-01T00:00:00Z\"}";
    assertThat(refused(service, "K-bad", future, 422, "invalid-content"))
        .contains("after its newest sample");
    String before = "{\"at\":\"2020-01-01T00:00:00Z\"}";
    assertThat(refused(service, "K-bad", before, 422, "invalid-content"))
        .contains("lies in no soak");
    assertThat(refused(service, "K-bad", "{\"at\":\"noon\"}", 400, "invalid-request"))
        .contains("noon");
    assertThat(refused(service, "K-bad", "{\"when\":1}", 422, "invalid-content"))
        .contains("only the member at");
    assertThat(refused(service, "K-nobody", "{}", 404, "unknown-tracker"))
        .contains("never had a soak");
    assertThat(undo(service, "K-bad", "2026-01-01T08:00:00Z")).isEqualTo(404);
    assertThat(undo(service, "K-bad", "noon")).isEqualTo(400);
    assertThat(marks(service, "K-bad")).isEmpty();
  }

  private static String refused(Service service, String id, String body, int status, String kind) {
    return Http.problem(
            service.http.send("POST", calls(id), "application/json", body), status, kind)
        .get("detail")
        .asText();
  }

  @Test
  void theTableHasFourColumnsForEachFigureOfTheCheck(Service service) {
    record(service, "K-table", sixPoses(16, true, true), "raw");
    List<String> rows = Http.csv(service.http.get(calls("K-table") + ".csv")).lines().toList();
    List<String> names = Arrays.asList(rows.get(0).split(","));
    assertThat(names)
        .startsWith("tracker", "name", "at", "soak", "origin", "status", "state_before")
        .contains("residual_z_dps_high", "deg_per_min", "deg_per_min_in_use_se", "check_reason")
        .doesNotHaveDuplicates();
    assertThat(rows).hasSize(2);
    assertThat(Http.csv(service.http.get("/api/calibrations.csv"))).contains("K-table,");
  }
}
