package soakbench.ingest.ports;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.File;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.IntFunction;
import org.junit.jupiter.api.Test;
import soakbench.demo.PseudoTerminal;
import soakbench.ingest.Agent;
import soakbench.ingest.AgentRig;
import soakbench.ingest.Sockets;
import soakbench.ingest.ports.PortReport.State;
import soakbench.ingest.rackfile.RackFile;
import soakbench.ingest.rackfile.RackFileParser;

/** Listening to pseudo-terminals; see {@link Sockets} for what is not real. */
class PortSurveyTest extends AgentRig {
  private static final Duration PATIENCE = Duration.ofSeconds(60);

  private final Sockets sockets = new Sockets();

  private PseudoTerminal plug(String usb, String serialNumber) throws IOException {
    PseudoTerminal device = device();
    sockets.plug(device, usb, serialNumber);
    return device;
  }

  /** Talks fifty times a second until the test ends. */
  private void talk(PseudoTerminal device, IntFunction<byte[]> says) {
    ScheduledExecutorService beat = Executors.newSingleThreadScheduledExecutor();
    toClose.add(beat::shutdownNow);
    AtomicInteger seq = new AtomicInteger();
    beat.scheduleAtFixedRate(
        () -> device.write(says.apply(seq.getAndIncrement())), 0, 20, TimeUnit.MILLISECONDS);
  }

  private List<PortReport> listen(double seconds, String... named) throws InterruptedException {
    return new PortSurvey(sockets).listen(List.of(named), seconds);
  }

  private PortReport of(List<PortReport> ports, PseudoTerminal device) {
    return ports.stream()
        .filter(p -> p.device().path().equals(device.path()))
        .findFirst()
        .orElseThrow();
  }

  @Test
  void eachPortIsToldByWhatIsHeardOnIt() throws Exception {
    PseudoTerminal json = plug("1-1", "S-1");
    PseudoTerminal rows = plug("1-2", "");
    PseudoTerminal chatter = plug("1-3", "");
    PseudoTerminal silent = plug("1-4", "");
    PseudoTerminal named = device();
    talk(json, seq -> line("T-1", seq).getBytes(UTF_8));
    talk(rows, seq -> "t_ms,temp_c\n%d,25.5\n".formatted(20 * seq).getBytes(UTF_8));
    talk(chatter, seq -> "waiting for a command\n".getBytes(UTF_8));
    talk(named, seq -> line("T-2", seq).getBytes(UTF_8));
    List<PortReport> ports = listen(2, named.path());

    PortReport first = of(ports, json);
    assertThat(first.state()).isEqualTo(State.TALKS);
    assertThat(first.device().what()).isEqualTo("adapter 1234:abcd");
    assertThat(first.device().usb()).isEqualTo("1-1");
    assertThat(first.talk().form()).isEqualTo("json");
    assertThat(first.talk().baud()).isEqualTo(115_200);
    assertThat(first.talk().trackers()).containsExactly("T-1");
    assertThat(first.talk().linesPerS()).isBetween(20.0, 80.0);
    assertThat(first.talk().sample()).startsWith("{\"id\":\"T-1\"");
    assertThat(of(ports, rows).lacksId()).isTrue();
    assertThat(of(ports, rows).talk().sample()).endsWith(",25.5");
    assertThat(of(ports, chatter).state()).isEqualTo(State.NO_DATA);
    assertThat(of(ports, chatter).talk().sample()).isEqualTo("waiting for a command");
    assertThat(of(ports, silent).state()).isEqualTo(State.SILENT);
    assertThat(of(ports, named).talk().trackers()).containsExactly("T-2");
    assertThat(json.read()).as("nothing is sent").isEmpty();
  }

  @Test
  void twoPortsWithOneIdBothTalkAndSaySo() throws Exception {
    List<PseudoTerminal> both = List.of(plug("1-1", ""), plug("1-2", ""));
    for (PseudoTerminal device : both) {
      talk(device, seq -> line("T-1", seq).getBytes(UTF_8));
    }
    // Where the whole machine stands still for seconds, nobody writes and nothing is heard.
    List<PortReport> ports =
        await()
            .atMost(PATIENCE)
            .until(() -> listen(2), all -> all.stream().allMatch(p -> p.state() == State.TALKS));
    assertThat(ports)
        .extracting(PortReport::reason)
        .allMatch(reason -> reason.startsWith("T-1 comes from port /dev/pts/"))
        .allMatch(reason -> reason.endsWith("give one of the two another id, or unplug one"));
    assertThat(ports)
        .extracting(port -> port.talk().sample())
        .allMatch(line -> line.startsWith("{\"id\""));
  }

  @Test
  void garbageAtEveryRateIsSaidSo() throws Exception {
    PseudoTerminal device = plug("1-1", "");
    byte[] garbage = new byte[64];
    Arrays.fill(garbage, (byte) 0xb5);
    talk(device, seq -> garbage);
    PortReport port = listen(1).get(0);
    assertThat(port.state()).isEqualTo(State.GARBLED);
    assertThat(port.reason()).contains("no text at any of the common rates");
  }

  @Test
  void aPortThatAnotherProgramHoldsIsToldWithItsNameAndNotOpened() throws Exception {
    PseudoTerminal device = plug("1-1", "");
    // Like a serial monitor that takes no lock: opened here too, each would get half of the lines.
    Process holder =
        new ProcessBuilder("sleep", "60").redirectInput(new File(device.path())).start();
    try {
      await().until(() -> listen(0.1).get(0).state() == State.UNUSABLE);
      assertThat(listen(0.1).get(0).reason())
          .startsWith("is used by sleep (process " + holder.pid() + ")");
    } finally {
      holder.destroyForcibly().waitFor();
    }
    assertThat(listen(0.1).get(0).state()).isEqualTo(State.SILENT);
  }

  @Test
  void whatIsOnlyListedIsNotOpened() throws Exception {
    PseudoTerminal device = plug("1-1", "");
    device.write(line("T-1", 1));
    List<PortReport> ports = new PortSurvey(sockets).look(List.of("/dev/none-such"));
    assertThat(of(ports, device).state()).isEqualTo(State.NOT_HEARD);
    assertThat(ports.get(1).reason()).contains("does not exist");
  }

  @Test
  void theRackFileThatIsWrittenReadsTheSamePorts() throws Exception {
    List<PseudoTerminal> devices = new ArrayList<>();
    devices.add(plug("1-1", "S-1"));
    devices.add(plug("1-2", "S-2"));
    devices.add(plug("1-2", "S-3"));
    devices.add(plug("", ""));
    plug("1-5", "");
    for (int i = 0; i < 3; i++) {
      String id = "T-" + i;
      talk(devices.get(i), seq -> line(id, seq).getBytes(UTF_8));
    }
    talk(
        devices.get(3),
        seq -> "{\"t_ms\":%d,\"temp_c\":21.5}\n".formatted(20 * seq).getBytes(UTF_8));
    RackDraft draft = new RackDraft(listen(1));
    assertThat(draft.size()).isEqualTo(4);
    Path file = Files.writeString(folder.resolve("rack.yaml"), draft.yaml());
    assertThat(Files.readString(file))
        .contains("{usb: \"1-1\", baud: 115200}  # T-0")
        .contains("{serial_number: \"S-2\", baud: 115200}  # T-1")
        .contains("{serial_number: \"S-3\", baud: 115200}  # T-2")
        .contains("{port: \"" + devices.get(3).path() + "\", baud: 115200, tracker: A")
        .contains("# silent: {usb: \"1-5\"}");

    finder = sockets;
    RackFile rack = RackFileParser.read(file);
    Agent agent = start(rack.slots());
    awaitOpen(agent);
    await()
        .atMost(Duration.ofSeconds(30))
        .until(
            () ->
                stored.keySet().size() == 4
                    && stored.keySet().stream().allMatch(t -> count(t) > 10));
    assertThat(stored.keySet()).contains("T-0", "T-1", "T-2");
    assertThat(agent.sources()).hasSize(4);
  }
}
