package soakbench.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import picocli.CommandLine;
import soakbench.bench.ServedProcess;
import soakbench.cli.options.LimitsFile;
import soakbench.model.Limits;
import soakbench.store.server.ReadyFolder;

/**
 * What a person reads who typed something that can't work: one sentence, an exit code, no stack
 * trace.
 */
class CommandLineTest {
  @TempDir private Path folder;

  private record Said(int exit, String out, String err) {}

  private static Said run(String... args) {
    StringWriter out = new StringWriter();
    StringWriter err = new StringWriter();
    CommandLine line = Main.commandLine();
    line.setOut(new PrintWriter(out, true));
    line.setErr(new PrintWriter(err, true));
    int exit = line.execute(args);
    return new Said(exit, out.toString(), err.toString());
  }

  private static void refused(Said said, String... words) {
    assertThat(said.exit()).isNotZero();
    assertThat(said.err()).startsWith("soakbench: ").contains(words);
    assertThat(said.err()).doesNotContain("\tat ").doesNotContain("Exception");
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "demo",
        "serve",
        "pair",
        "agent",
        "ports",
        "replay",
        "import",
        "lots",
        "retention",
        "simulate",
        "simulate-lots",
        "completion",
        "backup",
        "restore"
      })
  void eachCommandHasHelpWithAnExample(String command) {
    Said said = run(command, "--help");
    assertThat(said.exit()).isZero();
    assertThat(said.out()).contains("Example: soakbench " + command);
  }

  @Test
  void aMisspeltOptionIsNamedWithTheNearestRightOne() {
    refused(
        run("serve", "--prot", "1"), "no option \"--prot\"; did you mean \"--port\"?", "--help");
  }

  @Test
  void aMisspeltCommandIsNamedWithTheNearestRightOne() {
    refused(run("serv"), "no command \"serv\"; did you mean \"serve\"?");
    refused(run("pair", "extra"), "\"extra\" is one word too many");
  }

  @Test
  void aValueOfTheWrongKindIsSaidWithoutJavaWords() {
    refused(run("serve", "--port", "abc"), "'abc' is not a whole number");
    refused(run("demo", "--speed", "fast"), "'fast' is not a number");
    refused(run("simulate", "--start", "x"), "'x' is not a time like 2026-01-01T08:00:00Z");
  }

  @Test
  void aPortThatIsNoneIsSaidWithThoseThatAre() {
    for (String command : new String[] {"serve", "demo"}) {
      for (String port : new String[] {"99999", "65536", "-1"}) {
        refused(run(command, "--port", port), "--port " + port, "must be 0 to 65535", "--help");
      }
    }
  }

  @Test
  void daysAndRoomOutsideWhatMakesSenseAreRefusedBeforeAnythingStarts() {
    String data = folder.resolve("data").toString();
    refused(
        run("serve", "--data", data, "--keep-samples-days", "6"),
        "--keep-samples-days 6 is outside 7 to 36500 days");
    refused(run("serve", "--data", data, "--low-room-gb", "-1"), "--low-room-gb -1 is outside");
    refused(run("serve", "--data", data, "--db-room-gb", "9"), "--db-room-gb goes with --db");
    assertThat(folder.resolve("data")).doesNotExist();
  }

  @Test
  void howManyTrackersMetricsTellIsBounded() {
    refused(run("serve", "--metrics-trackers", "-1"), "--metrics-trackers -1", "0 to 10000");
    refused(run("serve", "--metrics-trackers", "10001"), "--metrics-trackers 10001", "0 to 10000");
  }

  @Test
  void listeningWiderWithoutATokenIsRefusedBeforeAnythingStarts() {
    Path data = folder.resolve("data");
    refused(run("serve", "--lan", "--data", data.toString()), "needs a token", "--token-file");
    assertThat(data).doesNotExist();
  }

  @Test
  void aServiceThatIsNotThereGivesNoCodeAndSaysSo() throws Exception {
    Path token = Files.writeString(folder.resolve("token"), "0123456789abcdef01234567");
    refused(
        run("pair", "--to", "http://127.0.0.1:1", "--token-file", token.toString()),
        "http://127.0.0.1:1 can't be reached");
    refused(run("pair", "--to", "nowhere", "--token-file", token.toString()), "is no address");
  }

  @Test
  void tablesAreNotPostedWhereAnybodyCanReadThemUnasked() {
    refused(run("push"), "--to");
    refused(run("push", "--to", "sheets.example"), "looks like https://HOST/PATH");
    Said plain = run("push", "--once", "--to", "http://192.0.2.7/hook?key=secret");
    refused(plain, "http://192.0.2.7/hook would send", "--plain");
    assertThat(plain.err()).doesNotContain("secret");
    refused(run("push", "--to", "https://sheets.example/", "--every", "0"), "1 to 86400");
  }

  @Test
  void lotsOfAServiceThatIsNotThereAndFormsThatExcludeEachOtherAreSaid() {
    refused(run("lots", "--to", "http://127.0.0.1:1"), "http://127.0.0.1:1 can't be reached");
    refused(run("lots", "--to", "nowhere"), "is no address");
    refused(run("lots", "--json", "--csv"), "--json and --csv");
    refused(run("lots", "--compare"), "--compare wants the lots");
  }

  @Test
  void aRackFileOfARackThatTheServiceDoesNotWriteForIsRefused() throws Exception {
    Path rack =
        Files.writeString(folder.resolve("of-a.yaml"), "rack: A\nslots:\n  A1: {port: /dev/x}\n");
    refused(
        run("serve", "--rack", rack.toString(), "--racks", "C,D"),
        rack + " is of rack A, and --racks names others",
        "by an agent");
  }

  @Test
  void aFolderInPlaceOfAFileIsSaid() {
    String here = folder.toString();
    refused(run("replay", "--limits", here, "x.jsonl"), here, "is a folder");
    refused(run("serve", "--rack", here), here, "is a folder");
    refused(run("replay", here), here, "holds no recording");
    refused(run("import", here), here, "holds no recording");
  }

  @Test
  void aFileInPlaceOfTheDataFolderIsSaid() throws Exception {
    Path file = Files.writeString(folder.resolve("file"), "");
    refused(run("serve", "--data", file.toString()), file.toString(), "is not a folder");
  }

  @Test
  void limitsThatAreGivenAreUsedAndTheOthersKeepTheirDefaults() throws Exception {
    Path limits = Files.writeString(folder.resolve("l.yaml"), "shift_limit_dps: 0.02\n");
    Limits read = LimitsFile.read(limits);
    assertThat(read.shiftLimitDps()).isEqualTo(0.02);
    assertThat(read.bandLowC()).isEqualTo(Limits.DEFAULT.bandLowC());
    assertThat(read.nearUseLimitDegPerMin()).isNull();
    Path empty = Files.writeString(folder.resolve("empty.yaml"), "# nothing\n");
    assertThat(LimitsFile.read(empty)).isEqualTo(Limits.DEFAULT);
  }

  @Test
  void aMisspeltLimitIsNamedWithTheNearestRightOneAndAllProblemsAtOnce() throws Exception {
    Path limits = Files.writeString(folder.resolve("l.yaml"), "band_lo_c: 3\nhot_c: warm\n");
    refused(
        run("replay", "--limits", limits.toString(), "x.jsonl"),
        "band_lo_c",
        "did you mean \"band_low_c\"",
        "hot_c");
  }

  @Test
  void limitsThatContradictEachOtherAreRefused() throws Exception {
    Path limits = Files.writeString(folder.resolve("l.yaml"), "band_low_c: 35\n");
    refused(run("replay", "--limits", limits.toString(), "x.jsonl"), "band_low_c", "band_high_c");
  }

  @Test
  void aRecordingThatIsNotThereIsNamed() {
    refused(run("replay", folder.resolve("no.jsonl").toString()), "no.jsonl", "does not exist");
  }

  @Test
  void aRecordingWithoutASampleSaysWhatItHolds() throws Exception {
    Path garbage = Files.writeString(folder.resolve("g.jsonl"), "boot\nrst:0x1\n");
    refused(run("replay", garbage.toString()), "holds no sample", "chatter", "rst:0x1");
  }

  @Test
  void aRackFileWithAMisspeltKeyIsRefusedBeforeAnythingStarts() throws Exception {
    Path rack =
        Files.writeString(folder.resolve("r.yaml"), "rack: A\nslot:\n  A1: {port: /dev/null}\n");
    Path data = folder.resolve("data");
    refused(
        run("serve", "--data", data.toString(), "--rack", rack.toString()),
        "slot",
        "did you mean \"slots\"");
    assertThat(data).doesNotExist();
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "jdbc:postgresql://127.0.0.1:1/none?user=u&password=p",
        "postgresql://127.0.0.1/x",
        "nonsense"
      })
  void aWrongDatabaseAddressIsOneSentence(String url) {
    refused(run("serve", "--db", url), "database");
  }

  @Test
  void aPortThatAnotherProgramHasIsNamed() throws Exception {
    try (ServerSocket taken = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
      refused(
          run(
              "serve",
              "--data",
              folder.resolve("data").toString(),
              "--port",
              String.valueOf(taken.getLocalPort())),
          String.valueOf(taken.getLocalPort()));
    }
  }

  @Test
  void anAgentThatCannotWorkSaysWhyInOneSentence() throws Exception {
    String spool = folder.resolve("spool.db").toString();
    refused(run("agent"), "--to");
    refused(run("agent", "--to", "bench-9", "--spool", spool), "looks like http://HOST:8094");
    refused(
        run("agent", "--to", "http://127.0.0.1:1", "--spool", spool, "--token-file", "none.txt"),
        "none.txt");
    Path text = Files.writeString(folder.resolve("notes.txt"), "not a spool\n");
    refused(
        run("agent", "--to", "http://127.0.0.1:1", "--spool", text.toString()),
        "is not a spool of this program");
    refused(
        run("agent", "--to", "http://127.0.0.1:1", "--spool", spool, "--spool-mb", "0"),
        "--spool-mb 0");
  }

  @Test
  void aDataFolderInUseByAnotherCopyIsRefused() throws Exception {
    Path data = ReadyFolder.in(folder.resolve("data"));
    try (ServedProcess first = ServedProcess.soon(data, null)) {
      refused(run("serve", "--data", data.toString(), "--port", "0"), data.toString(), "in use");
      assertThat(new Asked(first.url()).json("/health").get("status").asText()).isEqualTo("ok");
    }
  }
}
