package soakbench.cli.commands;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.PrintWriter;
import java.io.StringWriter;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import picocli.CommandLine;
import soakbench.api.http.Json;
import soakbench.api.lots.LotService;
import soakbench.api.lots.StoredLots;
import soakbench.cli.Main;

/** What the command prints of a running service's lots. */
class LotsCommandTest {
  private static LotService service;

  @BeforeAll
  static void store() throws Exception {
    service =
        new LotService(
            new StoredLots(7)
                .lot("Barley-2", 14, 0.009, "window", 2, 1, 8)
                .lot("Thistle-5", 16, 0.027, "window", 2, 1, 8)
                .lot("Sorrel 1", 8, 0.009, "stove", 1, 15)
                .lot("Yarrow", 1, 0.009, "stove", 1, 15));
  }

  @AfterAll
  static void close() {
    service.close();
  }

  private record Said(int exit, String out, String err) {}

  private static Said lots(String... args) {
    StringWriter out = new StringWriter();
    StringWriter err = new StringWriter();
    CommandLine line = Main.commandLine();
    line.setOut(new PrintWriter(out, true));
    line.setErr(new PrintWriter(err, true));
    String[] all = new String[args.length + 3];
    all[0] = "lots";
    System.arraycopy(args, 0, all, 1, args.length);
    all[args.length + 1] = "--to";
    all[args.length + 2] = service.http.base().toString();
    int exit = line.execute(all);
    return new Said(exit, out.toString(), err.toString());
  }

  @Test
  void allLotsAreATableWithOneLineEach() {
    Said said = lots();
    assertThat(said.exit()).as(said.err()).isZero();
    assertThat(said.out().lines()).hasSize(6);
    assertThat(said.out())
        .startsWith("greatest_tempco_dps_per_c, deg/s per degC\nlot ")
        .containsPattern("Barley-2 +14 +28 +2026-0\\d-\\d\\d +0\\.0\\d+ +0\\.00\\d+ \\(");
  }

  @Test
  void oneLotIsATableOfItsUnits() {
    Said said = lots("Sorrel 1", "--metric", "time_constant_s");
    assertThat(said.out().lines()).hasSize(10);
    assertThat(said.out())
        .startsWith("Sorrel 1: 8 units, 8 accept, 0 look again, 0 reject; median 4")
        .containsPattern("Sorrel1-00\\d\\d .* accept");
    assertThat(lots("Yarrow").out()).startsWith("Yarrow: 1 unit, ");
  }

  @Test
  void severalLotsAreComparedTheFindingFirst() {
    Said said = lots("Barley-2", "Thistle-5", "--at-c", "30");
    assertThat(said.out())
        .startsWith("Thistle-5's coefficients are ")
        .contains("level: Welch, p = ", "spread: Brown-Forsythe, p = ", "four trials of five show");
    assertThat(lots("Barley-2", "Sorrel 1").out())
        .startsWith("can't tell lot from day and rack\nseen, but not shown to be the lots'")
        .contains("- soak six or more units of each lot on one day");
  }

  @Test
  void programsGetWhatTheServiceAnswers() throws Exception {
    Said json = lots("Barley-2", "--compare", "--json");
    assertThat(Json.mapper().readTree(json.out()).get("level").get("reason").asText())
        .startsWith("one lot alone");
    assertThat(lots("Thistle-5", "--csv").out().lines()).hasSize(17);
    assertThat(lots("Barley-2", "Thistle-5", "--csv").out()).startsWith("metric,unit,at_c,a,n_a");
  }

  @Test
  void whatTheServiceRefusesIsSaidInItsWords() {
    Said lot = lots("Barly-2");
    assertThat(lot.exit()).isNotZero();
    assertThat(lot.err()).contains("There is no lot Barly-2; did you mean \"Barley-2\"?");
    assertThat(lots("Barley-2", "Barley-2").err()).contains("Lot Barley-2 comes twice");
    assertThat(lots("--metric", "tempco").err()).contains("there is no figure tempco");
  }
}
