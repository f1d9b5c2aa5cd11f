package soakbench.bench;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import picocli.CommandLine;

class BenchCommandTest {
  private static String printed(String... args) {
    StringWriter out = new StringWriter();
    CommandLine line = BenchCommand.commandLine().setOut(new PrintWriter(out));
    assertThat(line.execute(args)).isZero();
    return out.toString();
  }

  @Test
  void theHelpTellsEveryForcedSet() {
    String help = printed("verdict", "--help");
    for (Forced set : Forced.values()) {
      assertThat(help).contains(set.name() + ":");
    }
  }

  @Test
  @Tag("bench")
  void mixesAndForcedSetsAreJudgedAndPrinted() {
    assertThat(printed("verdict", "--mix", "STRANGE", "--trackers", "10"))
        .contains("strange, 10 trackers", "half_hz, 1 trackers", "handled, 1 trackers");
    assertThat(printed("verdict", "--mix", "USUAL", "--trackers", "3"))
        .contains("usual, room with a heating cycle", "usual, without");
    assertThat(printed("verdict", "--forced", "STEEP_CYCLING_LID", "--trackers", "2"))
        .contains("steep_cycling_lid, 2 trackers")
        .doesNotContain("usual");
  }

  @Test
  void theBenchOfLinesPrintsTheRatioOfEachForm() {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    PrintStream before = System.out;
    System.setOut(new PrintStream(out, true, StandardCharsets.UTF_8));
    try {
      int exit = BenchCommand.commandLine().execute("lines", "--lines", "500", "--rounds", "2");
      assertThat(exit).isZero();
    } finally {
      System.setOut(before);
    }
    assertThat(out.toString(StandardCharsets.UTF_8).lines())
        .hasSize(4)
        .allMatch(line -> line.matches(".* lines/s   [0-9.]+ of the first"));
  }
}
