package soakbench.cli.commands;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;
import soakbench.demo.simulation.Mix;
import soakbench.demo.simulation.RecipeGenerator;
import soakbench.demo.simulation.SimulateOptions;
import soakbench.demo.simulation.SimulateRun;
import soakbench.demo.simulation.Truth;

/** Several recordings of one tracker in one replay. */
class ReplayFilesTest {
  private static final Instant START = Instant.parse("2026-03-02T08:00:00Z");

  @TempDir static Path folder;
  private static final List<Path> DAYS = new ArrayList<>();

  @BeforeAll
  static void record() throws IOException {
    int seed = 1;
    while (!getsReady(options(seed, 0))) {
      seed++;
    }
    for (int day = 0; day < 4; day++) {
      SimulateOptions options = options(seed, day);
      ByteArrayOutputStream lines = new ByteArrayOutputStream();
      SimulateRun.write(options, lines, null);
      DAYS.add(Files.write(folder.resolve("day" + day + ".jsonl"), lines.toByteArray()));
    }
  }

  private static boolean getsReady(SimulateOptions options) {
    return !Truth.of(RecipeGenerator.recipe(options)).readyS().isEmpty();
  }

  private static SimulateOptions options(int seed, int day) {
    return SimulateOptions.usual(seed)
        .withMix(Mix.CLEAN)
        .lasting(3000)
        .printing(5)
        .named("T-1")
        .withAccelerometer(false)
        .startingAt(START.plus(day, ChronoUnit.DAYS));
  }

  private static JsonNode replay(List<Path> files) throws IOException {
    StringWriter out = new StringWriter();
    List<String> args = new ArrayList<>(List.of("--json"));
    files.forEach(f -> args.add(f.toString()));
    int code =
        new CommandLine(new ReplayCommand())
            .setOut(new PrintWriter(out))
            .execute(args.toArray(String[]::new));
    assertThat(code).isZero();
    return new ObjectMapper().readTree(out.toString()).get("trackers");
  }

  private static boolean priorUsed(JsonNode tracker) {
    boolean used = false;
    for (JsonNode forecast : tracker.get("soaks").get(0).get("forecasts")) {
      used |= forecast.get("ready_at").path("prior_used").asBoolean();
    }
    return used;
  }

  @Test
  void aTimeIsListedAsSoonAsItIsTold() throws IOException {
    JsonNode soak = replay(List.of(DAYS.get(0))).get(0).get("soaks").get(0);
    List<Instant> told = new ArrayList<>();
    for (JsonNode forecast : soak.get("forecasts")) {
      if (forecast.hasNonNull("ready_at")) {
        told.add(Instant.parse(forecast.get("time").asText()));
      }
    }
    Instant young = told.get(0).plusSeconds(500);
    assertThat(told.stream().filter(young::isAfter)).hasSizeGreaterThanOrEqualTo(500 / 30);
  }

  @Test
  void theEarlierOnesCountInWhateverOrderTheyAreNamed() throws IOException {
    JsonNode shuffled = replay(List.of(DAYS.get(3), DAYS.get(1), DAYS.get(0), DAYS.get(2)));
    assertThat(priorUsed(shuffled.get(0))).as("the last day, named first").isTrue();
    for (int i = 1; i < 4; i++) {
      assertThat(priorUsed(shuffled.get(i))).as("an earlier day").isFalse();
    }
    String first = shuffled.get(0).get("soaks").get(0).get("start").asText();
    assertThat(first).startsWith("2026-03-05");
  }

  @Test
  void theTimelineIsTheSameAloneAndWithOthers() throws IOException {
    JsonNode alone = replay(List.of(DAYS.get(3))).get(0).get("soaks").get(0);
    JsonNode last = replay(DAYS).get(3).get("soaks").get(0);
    assertThat(last.get("timeline")).isEqualTo(alone.get("timeline"));
    assertThat(last.get("forecasts")).isNotEqualTo(alone.get("forecasts"));
    assertThat(last.get("unwrapped").get("reason").asText())
        .startsWith("not known: uncover one and leave it still for five minutes");
  }

  @Test
  void ofAFolderATableTellsFilesApartAndOneThatIsBrokenKeepsNoOtherFromIt() throws IOException {
    Path some = Files.createDirectories(folder.resolve("some"));
    Files.copy(DAYS.get(0), some.resolve("monday.jsonl"));
    Files.copy(DAYS.get(1), some.resolve("tuesday.jsonl"));
    Files.writeString(some.resolve("broken.csv"), "");
    StringWriter out = new StringWriter();
    StringWriter err = new StringWriter();
    CommandLine replay =
        new CommandLine(new ReplayCommand())
            .setOut(new PrintWriter(out))
            .setErr(new PrintWriter(err, true));
    assertThat(replay.execute(some.toString())).isEqualTo(1);
    assertThat(err.toString()).contains("broken.csv: holds no sample: it is empty");
    List<String> rows = out.toString().lines().filter(l -> l.startsWith("T-1 ")).toList();
    assertThat(rows).hasSize(2);
    assertThat(rows.get(0)).contains("2026-03-02 08:0").endsWith("  monday.jsonl");
    assertThat(rows.get(1)).contains("2026-03-03 08:0").endsWith("  tuesday.jsonl");
    assertThat(rows).allMatch(r -> r.matches(".* [xyz] -?0\\.\\d+ ± .* [xyz] \\d.*"));
    assertThat(out.toString())
        .contains("2 files, 2 soaks of 1 tracker: 2 ready (first after ", "1 file FAILED");

    StringWriter csv = new StringWriter();
    new CommandLine(new ReplayCommand())
        .setOut(new PrintWriter(csv))
        .execute("--csv", some.resolve("monday.jsonl").toString());
    List<String> lines = csv.toString().lines().toList();
    assertThat(lines).hasSize(2);
    assertThat(lines.get(0))
        .startsWith("file,tracker,soak,start,end,samples,rejected,state,first_ready_s,plateau_c,")
        .contains(",tempco_z_dps_per_c_high,", ",angle_random_walk_y_deg_per_sqrt_h,");
    assertThat(lines.get(1)).contains("monday.jsonl,T-1,T-1@20260302T08", ",ready,");
  }
}
