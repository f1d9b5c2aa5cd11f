package soakbench.cli.commands;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import picocli.CommandLine;
import soakbench.api.calibrations.CalibrationTable;
import soakbench.api.http.Json;
import soakbench.demo.simulation.HandlingRuns;
import soakbench.demo.simulation.Recipe;
import soakbench.demo.unit.Correction;
import soakbench.demo.unit.Handling;
import soakbench.ingest.source.Recording;
import soakbench.live.calibration.CalibrationDeriver;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Limits;
import soakbench.model.Tracker;
import soakbench.readiness.Calibration;
import soakbench.store.Database;
import soakbench.store.SharedServer;
import soakbench.store.server.DatabaseSettings;

/** Live, after a restart in the middle of it, and replayed, a calibration is the same. */
class CalibrationAgreementTest {
  private static final ObjectMapper MAPPER = new ObjectMapper();

  @TempDir Path folder;
  private final DatabaseSettings settings = SharedServer.empty();

  @ParameterizedTest
  @EnumSource(
      value = Handling.Kind.class,
      names = {"SIX_POSES", "CLUMSY"})
  void replayTellsWhatTheServiceTellsAlsoAfterARestartInTheMiddle(Handling.Kind kind)
      throws IOException {
    Recipe recipe = HandlingRuns.of(kind, 41, true, true, Correction.NONE);
    Path file = folder.resolve("run.jsonl");
    HandledRun.write(recipe, file);
    JsonNode replayed = replay("--json", "--rates", "raw", file.toString());
    JsonNode marks = replayed.get("trackers").get(0).get("soaks").get(0).get("calibrations");
    assertThat(marks).hasSize(1);
    assertThat(marks.get(0).get("check").get("verdict").asText())
        .isIn("keep", "do_again", "unknown");

    Handling handling = recipe.events().handlings().get(0);
    double middleS = (handling.fromS() + handling.toS()) / 2;
    long middleUs = recipe.startUs() + (long) (middleS * 1e6);
    feed(file, recipe, middleUs);
    List<Calibration> kept = feed(file, recipe, Long.MAX_VALUE);
    String served = Json.write(CalibrationTable.of(id -> id).json(kept));
    assertThat(MAPPER.readTree(served)).isEqualTo(marks);
  }

  /** Feeds the service up to a time, as often as it is called; what it has already is harmless. */
  private List<Calibration> feed(Path file, Recipe recipe, long toUs) throws IOException {
    try (Database database = Database.open(settings)) {
      roster(database, recipe.unit().id());
      SoakWatch watch = new SoakWatch(database.soakStore(), Limits.DEFAULT, () -> 0);
      watch.restore();
      CalibrationDeriver keeper =
          new CalibrationDeriver(database.calibrations(), database.calibrationReports());
      Recording.read(
          file, samples -> watch.accept(samples.stream().filter(s -> s.timeUs() < toUs).toList()));
      keeper.deriveOutdated();
      if (toUs == Long.MAX_VALUE) {
        watch.finish();
        // What is under way is looked at every two seconds.
        Awaitility.await()
            .atMost(Duration.ofSeconds(60))
            .until(
                () -> {
                  keeper.deriveOutdated();
                  List<Calibration> marks = database.calibrationTable().of(recipe.unit().id());
                  return !marks.isEmpty() && marks.get(0).check() != null;
                });
      }
      return database.calibrationTable().of(recipe.unit().id());
    }
  }

  private static void roster(Database database, String id) {
    Tracker raw =
        new Tracker(id, id, "", "", "", "", "", Tracker.Power.UNKNOWN, Tracker.Rates.RAW, 0, "");
    database.roster().putAll(List.of(raw), false);
  }

  private static JsonNode replay(String... args) throws IOException {
    return MAPPER.readTree(table(args));
  }

  private static String table(String... args) {
    StringWriter out = new StringWriter();
    int code = new CommandLine(new ReplayCommand()).setOut(new PrintWriter(out)).execute(args);
    assertThat(code).isZero();
    return out.toString();
  }

  /** By design a soak is cut where a tracker comes back from a reboot a degree cooler. */
  @Test
  void aCalibrationIsSeenAcrossASoakThatWasCutBecauseTheChipCooledWhileItWasOff()
      throws IOException {
    Recipe recipe = HandlingRuns.of(Handling.Kind.FOUR_POSES, 810_006, true, true, Correction.NONE);
    Path file = folder.resolve("cut.jsonl");
    HandledRun.write(recipe, file);
    JsonNode soaks =
        replay("--json", "--rates", "raw", file.toString()).get("trackers").get(0).get("soaks");
    assertThat(soaks).hasSize(2);
    assertThat(soaks.get(1).get("calibrations")).isEmpty();
    JsonNode mark = soaks.get(0).get("calibrations").get(0);
    assertThat(mark.get("soak")).isEqualTo(soaks.get(0).get("soak"));
    assertThat(mark.get("faces").asInt()).isGreaterThanOrEqualTo(4);
    assertThat(mark.get("check").get("verdict").asText()).isIn("keep", "do_again", "unknown");

    feed(file, recipe, recipe.startUs() + (long) (recipe.events().handlings().get(0).toS() * 1e6));
    List<Calibration> kept = feed(file, recipe, Long.MAX_VALUE);
    assertThat(kept).hasSize(1);
    JsonNode served = MAPPER.readTree(Json.write(CalibrationTable.of(id -> id).json(kept.get(0))));
    assertThat(served).isEqualTo(mark);
  }

  @Test
  void theTableOfAReplayTellsTheVerdictAndTheQuestion() throws IOException {
    List<String> said = new ArrayList<>();
    for (boolean accelerometer : new boolean[] {true, false}) {
      Path file = folder.resolve("with-" + accelerometer + ".jsonl");
      HandledRun.write(
          HandlingRuns.of(Handling.Kind.SIX_POSES, 42, accelerometer, true, Correction.NONE), file);
      said.add(table("--rates", "raw", file.toString()));
    }
    assertThat(said.get(0))
        .containsPattern("calibrated at 2026-01-01T08:[0-9:]+Z: (keep|do again|unknown): [0-9.]+");
    assertThat(said.get(1)).containsPattern("calibrated at 2026-01-01T08:[0-9:]+Z\\?");
  }

  @Test
  void ofRatesThatNobodyDescribedNoResidualIsToldButWhatToSay() throws IOException {
    Path file = folder.resolve("undescribed.jsonl");
    HandledRun.write(
        HandlingRuns.of(Handling.Kind.SIX_POSES, 43, true, true, Correction.NONE), file);
    JsonNode soaks =
        replay("--json", "--rates", "unknown", file.toString()).get("trackers").get(0).get("soaks");
    JsonNode check = soaks.get(0).get("calibrations").get(0).get("check");
    assertThat(check.get("verdict").asText()).isEqualTo("unknown");
    assertThat(check.get("reason").asText()).contains("takes off its rates: set it in the roster");
    for (JsonNode residual : check.get("residual_dps")) {
      assertThat(residual.has("value") && !residual.get("value").isNull()).isFalse();
    }
  }
}
