package soakbench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.nio.file.Path;
import java.util.List;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIf;
import org.junit.jupiter.api.io.TempDir;
import soakbench.demo.PseudoTerminal;
import soakbench.ingest.Agent;
import soakbench.ingest.rackfile.RackFile;
import soakbench.ingest.spool.Spool;
import soakbench.ingest.spool.SqliteSpool;
import soakbench.model.Sample;

/** What is wrong with the rack's ports, on the board and on their page, over real terminals. */
@EnabledIf(value = "soakbench.Chromium#isThere", disabledReason = "Chromium is not there")
class BoardPortsTest extends OnABoard {
  @TempDir private Path folder;

  @Test
  void whatIsWrongWithAPortStandsOnTheBoardInALineThatOpensThePorts() throws Exception {
    try (PseudoTerminal garbage = new PseudoTerminal();
        PseudoTerminal silent = new PseudoTerminal();
        PseudoTerminal first = new PseudoTerminal();
        PseudoTerminal twin = new PseudoTerminal();
        Spool spool = SqliteSpool.open(folder.resolve("spool.db"), 1 << 17);
        Agent agent = service.agent(rack(garbage, silent, first, twin), spool)) {
      agent.start();
      chromium.complaints();
      chromium.driver().get(service.url().toString());
      for (int i = 0; i < 40; i++) {
        garbage.write("what is this " + i + "\n");
        for (PseudoTerminal each : List.of(first, twin)) {
          each.write("{\"id\":\"T-1\",\"temp_c\":25.5,\"gyro_dps\":[0.1,0.2,0.3]}\n");
        }
        Thread.sleep(100);
      }
      await()
          .atMost(PATIENCE)
          .until(
              () -> chromium.texts("#port-line"),
              line -> line.toString().contains("Slot A1: 40 of 40 lines can't be read: "));
      assertThat(chromium.text("#port-line"))
          .startsWith("Ports: Slot A1: ")
          .contains("Slot A2: nothing has come of it yet");
      theSpoolAndTheDatabaseStandInTheSameLine(spool);
      chromium.one("#port-line").click();
      await().atMost(PATIENCE).until(() -> chromium.all(".port").size() == 5);
      await().atMost(PATIENCE).until(() -> chromium.all(".port[data-trouble]").size() >= 4);
      assertThat(chromium.text("#headline")).matches("[45] of 5 ports to look at");
      assertThat(chromium.texts("#troubles li").toString()).contains("Database: ", "Spool: ");
      assertThat(chromium.texts(".port").toString())
          .contains("what is this 39", "another cable", "does not exist", "T-1");
      fitsTheSides();
    }
    // While the database is away what needs it is refused, and the browser logs that.
    assertThat(chromium.complaints()).allMatch(line -> line.contains("503"));
  }

  /** A database that is closed for good stops the reading soon, so what fills the spool is put. */
  private void theSpoolAndTheDatabaseStandInTheSameLine(Spool spool) {
    assertThat(chromium.text("#port-line")).doesNotContain("Database", "Spool");
    assertThat(chromium.complaints()).isEmpty();
    database.close();
    await()
        .atMost(PATIENCE)
        .until(() -> chromium.text("#port-line"), line -> line.startsWith("Database: "));
    for (int batch = 0; batch < 12; batch++) {
      spool.append(hundred(batch));
    }
    await()
        .atMost(PATIENCE)
        .until(
            () -> chromium.text("#port-line"),
            line ->
                line.matches(
                    "(Rack: .+; )?Database: .+; Spool: \\d+ % full, \\d+ samples wait to be"
                        + " stored; .*and \\d more"));
    assertThat(chromium.texts(".notice").toString())
        .as("what the line says is not said twice")
        .doesNotContain("database");
  }

  private static List<Sample> hundred(int batch) {
    float none = Float.NaN;
    return LongStream.range(100L * batch, 100L * batch + 100)
        .mapToObj(
            us -> new Sample("T-2", us, 25.5f, false, 0.1f, 0.2f, 0.3f, none, none, none, -1, -1))
        .toList();
  }

  private static void fitsTheSides() {
    for (int width : new int[] {390, 1366, 1920}) {
      chromium.resize(width, 900);
      assertThat(chromium.<Long>ask("document.documentElement.scrollWidth"))
          .as("at width %d", width)
          .isLessThanOrEqualTo(width);
    }
  }

  private RackFile rack(PseudoTerminal... devices) {
    return new RackFile(
        "A",
        List.of(
            new RackFile.Slot("A1", devices[0].path()),
            new RackFile.Slot("A2", devices[1].path()),
            new RackFile.Slot("A3", devices[2].path()),
            new RackFile.Slot("A4", devices[3].path()),
            new RackFile.Slot("A5", folder.resolve("none").toString())));
  }

  @Test
  void aServiceWithoutARackSaysSo() {
    chromium.complaints();
    chromium.driver().get(service.url() + "ports");
    await().atMost(PATIENCE).until(() -> chromium.text("#headline").startsWith("No rack"));
    assertThat(chromium.one("#none").isDisplayed()).isTrue();
    chromium.resize(390, 844);
    assertThat(chromium.one(".brand a").isDisplayed()).as("a tap back to the board").isTrue();
    assertThat(chromium.complaints()).isEmpty();
  }
}
