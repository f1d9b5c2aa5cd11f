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
import soakbench.live.watch.SoakWatch;
import soakbench.store.Database;
import soakbench.store.Samples;
import soakbench.store.SharedServer;
import soakbench.store.server.DatabaseSettings;

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

  @Test
  void theBenchOfTheStorePrintsWhatIsJudgedBesideCopy() {
    String url = SharedServer.url(SharedServer.empty());
    String printed =
        printed(("store --trackers 2 --rate-hz 5 --seconds 45 --rounds 1 --db " + url).split(" "));
    assertThat(printed.lines().filter(l -> l.matches(".* rows/s +[0-9.]+ of COPY text")))
        .hasSize(6);
    assertThat(printed).contains("samples, bins and verdicts, all fresh");
  }

  @Test
  void theBenchOfTheStoreLeavesADatabaseAloneInWhichSomethingIsStored() {
    DatabaseSettings settings = SharedServer.empty();
    try (Database database = Database.open(settings)) {
      SoakWatch watch = new SoakWatch(database.soakStore(), null, () -> 0);
      watch.accept(Samples.samples("T-0412", 0, 3));
    }
    StringWriter errors = new StringWriter();
    CommandLine line = BenchCommand.commandLine().setErr(new PrintWriter(errors));
    assertThat(line.execute("store", "--db", SharedServer.url(settings), "--seconds", "1"))
        .isNotZero();
    assertThat(errors.toString()).contains("has samples or soaks").contains("name an empty one");
  }
}
