package soakbench.cli.commands;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;
import soakbench.cli.Main;
import soakbench.demo.PseudoTerminal;

/** A line form of the user's own, over a file and tried on a port. */
class OwnPatternTest {
  private static final String PATTERN =
      "^at (?<t_ms>[0-9]+): (?<temp_c>-?[0-9]+) raw, turning (?<gx_dps>-?[0-9]+)"
          + " (?<gy_dps>-?[0-9]+) (?<gz_dps>-?[0-9]+)$";

  @TempDir private Path folder;

  private record Said(int exit, String out, String err) {}

  private static Said run(String... args) {
    StringWriter out = new StringWriter();
    StringWriter err = new StringWriter();
    CommandLine line = Main.commandLine();
    line.setOut(new PrintWriter(out, true));
    line.setErr(new PrintWriter(err, true));
    return new Said(line.execute(args), out.toString(), err.toString());
  }

  /** Ten minutes of the same counts, as JSON and in the form of somebody's firmware. */
  private void record(Path json, Path own) throws IOException {
    StringBuilder jsonLines = new StringBuilder();
    StringBuilder ownLines = new StringBuilder("radio up\n");
    for (int i = 0; i < 6000; i++) {
      int raw = 128 * 4 + (int) Math.round(128 * 4 * (1 - Math.exp(-i / 2000.0)));
      int x = 100 + i * 7 % 5;
      jsonLines.append(
          String.format(
              Locale.ROOT,
              "{\"id\":\"KITE-1\",\"t_ms\":%d,\"temp_c\":%s,\"gyro_dps\":[%s,%s,%s]}%n",
              i * 100,
              21 + raw * 0.0078125,
              x * 0.0625,
              -0.0625,
              0.125));
      ownLines.append(
          String.format(Locale.ROOT, "at %d: %d raw, turning %d -1 2%n", i * 100, raw, x));
    }
    Files.writeString(json, jsonLines);
    Files.writeString(own, ownLines);
  }

  @Test
  void aRecordingInAnotherFormIsJudgedLikeTheEqualOneInJson() throws IOException {
    Path json = folder.resolve("run.jsonl");
    Path own = folder.resolve("run.txt");
    record(json, own);
    Said usual = run("replay", "--json", json.toString());
    Said other =
        run(
            "replay",
            "--json",
            "--id",
            "KITE-1",
            "--pattern",
            PATTERN,
            "--scale",
            "temp_c=0.0078125",
            "--scale",
            "gx_dps=0.0625",
            "--scale",
            "gy_dps=0.0625",
            "--scale",
            "gz_dps=0.0625",
            "--offset",
            "temp_c=21",
            own.toString());
    assertThat(other.exit()).as(other.err()).isZero();
    assertThat(other.out().replace("\"rejected\":1", "\"rejected\":0")).isEqualTo(usual.out());
    assertThat(usual.out()).contains("\"samples\":6000");
  }

  @Test
  void aPatternThatFitsNothingIsToldWithAnExample() throws IOException {
    Path json = folder.resolve("run.jsonl");
    record(json, folder.resolve("run.txt"));
    Said said = run("replay", "--pattern", "T=(?<temp_c>.+)", json.toString());
    assertThat(said.exit()).isNotZero();
    assertThat(said.err())
        .contains("holds no sample: 6000 of 6000 lines not used")
        .contains("text that the pattern does not match")
        .contains("such as \"{");
  }

  @Test
  void aPatternThatCanNotBeUsedIsRefusedInOneSentence() {
    Said said = run("replay", "--pattern", "(?<tempc>.+)", "x.txt");
    assertThat(said.exit()).isNotZero();
    assertThat(said.err()).startsWith("soakbench: group \"tempc\" is no column");
    assertThat(run("replay", "--scale", "temp_c=2", "x.txt").err())
        .startsWith("soakbench: --scale and --offset need a pattern");
    assertThat(run("ports", "--try", "(?<temp_c>.+)").err())
        .startsWith("soakbench: --try needs one port");
  }

  @Test
  void aPatternIsTriedOnTheSpot() throws IOException {
    try (PseudoTerminal device = new PseudoTerminal()) {
      ScheduledExecutorService printing = Executors.newSingleThreadScheduledExecutor();
      printing.scheduleAtFixedRate(
          () -> device.write("at 1200: 512 raw, turning 16 -1 2\nradio up\n"),
          0,
          20,
          TimeUnit.MILLISECONDS);
      Said said =
          run(
              "ports",
              "--try",
              PATTERN,
              "--scale",
              "temp_c=0.0078125",
              "--offset",
              "temp_c=21",
              "--scale",
              "gx_dps=0.0625",
              "--seconds",
              "2",
              device.path());
      printing.shutdownNow();
      assertThat(said.exit()).as(said.out() + said.err()).isZero();
      assertThat(said.out())
          .contains("at 1200: 512 raw, turning 16 -1 2")
          .contains("t_ms 1200, temperature 25.0000 degC, rates 1.0000 -1.0000 2.0000 deg/s")
          .contains("not used: text that the pattern does not match")
          .containsPattern("[0-9]+ of [0-9]+ lines match");
    }
  }

  @Test
  void aSilentPortAndAMissingOneAreToldSo() throws IOException {
    try (PseudoTerminal device = new PseudoTerminal()) {
      Said silent = run("ports", "--try", "(?<temp_c>.+)", "--seconds", "1", device.path());
      assertThat(silent.exit()).isNotZero();
      assertThat(silent.out()).contains("nothing came from " + device.path() + " within 1 s");
    }
    Said missing = run("ports", "--try", "(?<temp_c>.+)", folder.resolve("none").toString());
    assertThat(missing.exit()).isNotZero();
    assertThat(missing.err()).contains("does not exist; plug the tracker in");
  }
}
