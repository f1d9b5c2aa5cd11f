package soakbench.cli.commands;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import java.util.stream.StreamSupport;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;
import soakbench.cli.Asked;
import soakbench.cli.Main;
import soakbench.cli.Serving;
import soakbench.demo.PseudoTerminal;
import soakbench.store.SharedServer;

/** The command on pseudo-terminals, which are named to it; it also sees this computer's ports. */
class PortsCommandTest {
  @TempDir private Path folder;

  private final ScheduledExecutorService beat = Executors.newSingleThreadScheduledExecutor();
  private PseudoTerminal talking;
  private PseudoTerminal silent;

  private record Said(int exit, String out, String err) {}

  @BeforeEach
  void plug() throws Exception {
    talking = new PseudoTerminal();
    silent = new PseudoTerminal();
    AtomicInteger seq = new AtomicInteger();
    beat.scheduleAtFixedRate(
        () -> talking.write(line(seq.getAndIncrement())), 0, 20, TimeUnit.MILLISECONDS);
  }

  private static byte[] line(int seq) {
    return "{\"id\":\"T-0412\",\"seq\":%d,\"t_ms\":%d,\"temp_c\":25.5,\"gyro_dps\":[0.1,0.2,0.3]}\n"
        .formatted(seq, 5000 + 20 * seq)
        .getBytes(UTF_8);
  }

  @AfterEach
  void unplug() throws InterruptedException {
    beat.shutdownNow();
    assertThat(beat.awaitTermination(10, TimeUnit.SECONDS)).isTrue();
    talking.close();
    silent.close();
  }

  private static Said run(String... args) {
    StringWriter out = new StringWriter();
    StringWriter err = new StringWriter();
    CommandLine line = Main.commandLine();
    line.setOut(new PrintWriter(out, true));
    line.setErr(new PrintWriter(err, true));
    int exit = line.execute(args);
    return new Said(exit, out.toString(), err.toString());
  }

  @Test
  void peopleReadWhatEachPortSaysAndWhatToTry() {
    Said said = run("ports", "--seconds", "1.5", talking.path(), silent.path());
    assertThat(said.exit()).as(said.err()).isZero();
    assertThat(said.out())
        .containsPattern("talks: json at 115200 baud, [0-9.]+ lines/s, T-0412\n")
        .contains("    {\"id\":\"T-0412\",\"seq\":")
        .contains(silent.path() + "\n    silent\n")
        .contains("try, in this order:\n  1. another cable: many carry power only\n")
        .contains("\n  7. asking it to talk");
    assertThat(talking.read()).as("what it was sent").isEmpty();
  }

  @Test
  void programsReadTheSameAsJson() throws Exception {
    Said said = run("ports", "--seconds", "1.5", "--json", talking.path(), silent.path());
    Map<String, JsonNode> ports =
        StreamSupport.stream(
                new ObjectMapper().readTree(said.out()).get("ports").spliterator(), false)
            .collect(Collectors.toMap(p -> p.get("path").asText(), p -> p));
    JsonNode port = ports.get(talking.path());
    assertThat(port.get("state").asText()).isEqualTo("talks");
    assertThat(port.get("baud").asInt()).isEqualTo(115_200);
    assertThat(port.get("lines_per_s").asDouble()).isBetween(10.0, 80.0);
    assertThat(port.get("trackers").get(0).asText()).isEqualTo("T-0412");
    assertThat(port.fieldNames())
        .toIterable()
        .containsExactly(
            "path",
            "what",
            "usb",
            "serial_number",
            "state",
            "reason",
            "baud",
            "form",
            "lines_per_s",
            "trackers",
            "sample");
    assertThat(ports.get(silent.path()).get("state").asText()).isEqualTo("silent");
  }

  @Test
  void withoutListeningNoPortIsOpened() {
    Said said = run("ports", "--no-listen", talking.path());
    assertThat(said.out()).contains(talking.path() + "\n    free; not listened to\n");
  }

  @Test
  void theRackFileThatIsWrittenIsReadByTheServiceAsItIs() throws Exception {
    Path file = folder.resolve("rack.yaml");
    Said said = run("ports", "--seconds", "1", "--write-rack", file.toString(), talking.path());
    assertThat(said.exit()).as(said.err()).isZero();
    assertThat(said.out()).contains("wrote " + file);
    assertThat(Files.readString(file))
        .contains("A1: {port: \"" + talking.path() + "\", baud: 115200}  # T-0412;");
    try (Serving serve = serving(file)) {
      serve.awaitSaid("board at ");
      Asked asked = new Asked(serve.url());
      await()
          .atMost(Duration.ofSeconds(60))
          .until(() -> asked.json("api/ports").at("/ports/0/readings").asLong() > 20);
      JsonNode port = asked.json("api/ports").at("/ports/0");
      assertThat(port.get("slot").asText()).isEqualTo("A1");
      assertThat(port.at("/trackers/0").asText()).isEqualTo("T-0412");
    }
  }

  /** The program on a database that is there; its spool lies in a folder of its own. */
  private Serving serving(Path rackFile) throws IOException {
    String database = SharedServer.url(SharedServer.empty());
    String data = folder.resolve("data").toString();
    return Serving.start(
        folder.resolve("said"), "--db", database, "--data", data, "--rack", rackFile.toString());
  }

  @Test
  void aFileThatIsThereIsReplacedOnlyWhenAskedTo() throws Exception {
    Path file = Files.writeString(folder.resolve("rack.yaml"), "mine\n");
    List<String> command = List.of("ports", "--seconds", "1", "--write-rack", file.toString());
    Said refused = run(with(command, talking.path()));
    assertThat(refused.exit()).isNotZero();
    assertThat(refused.err()).contains(file + " is there already", "--force");
    assertThat(Files.readString(file)).isEqualTo("mine\n");
    assertThat(run(with(command, talking.path(), "--force")).exit()).isZero();
    assertThat(Files.readString(file)).startsWith("rack: A\nslots:\n  A1: {");
  }

  @Test
  void whereNothingTalksNoFileIsWritten() {
    Path file = folder.resolve("rack.yaml");
    Said said = run("ports", "--seconds", "0.2", "--write-rack", file.toString(), silent.path());
    assertThat(said.exit()).isNotZero();
    assertThat(said.err()).contains("no port talks");
    assertThat(file).doesNotExist();
  }

  @Test
  void aTimeThatIsNoneIsRefused() {
    assertThat(run("ports", "--seconds", "0").err()).contains("--seconds 0.0 is not more than 0");
    assertThat(run("ports", "--write-rack", "x", "--no-listen").err()).contains("--no-listen");
  }

  private static String[] with(List<String> command, String... more) {
    return Stream.concat(command.stream(), List.of(more).stream()).toArray(String[]::new);
  }
}
