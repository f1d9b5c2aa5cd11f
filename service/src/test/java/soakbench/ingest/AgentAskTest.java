package soakbench.ingest;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.time.Duration;
import java.util.Collections;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import soakbench.demo.PseudoTerminal;
import soakbench.ingest.rackfile.AskSettings;
import soakbench.ingest.rackfile.AskSettings.Newline;
import soakbench.ingest.rackfile.LineSettings;
import soakbench.ingest.rackfile.PortSettings;
import soakbench.ingest.rackfile.RackFile;
import soakbench.ingest.rackfile.SlotBinding;

/** What is sent to a device, as the device gets it. */
class AgentAskTest extends AgentRig {
  private final StringBuffer got = new StringBuffer();

  private Agent start(PseudoTerminal device, AskSettings ask) {
    PortSettings settings = new PortSettings(115_200, false, ask);
    return start(
        List.of(
            new RackFile.Slot("A1", SlotBinding.port(device.path()), settings, LineSettings.NONE)));
  }

  private String received(PseudoTerminal device) {
    got.append(new String(device.read(), UTF_8));
    return got.toString();
  }

  @Test
  void aDeviceThatTalksOnlyWhenAskedIsAskedAfterOpeningAndAfterAReboot() throws IOException {
    PseudoTerminal device = device();
    Agent agent =
        start(
            device,
            new AskSettings(List.of("start", "rate 50"), List.of("again\u0003"), 0, Newline.CRLF));
    awaitOpen(agent);
    await().until(() -> received(device).equals("start\r\nrate 50\r\n"));
    for (int seq = 500; seq < 505; seq++) {
      device.write(line("T-1", seq));
    }
    await().until(() -> count("T-1") >= 4);
    await().until(() -> agent.sources().get(0).sent().equals("rate 50"));
    device.write("booting\n");
    device.write("{\"id\":\"T-1\",\"seq\":0,\"t_ms\":20,\"temp_c\":25.5,\"gyro_dps\":[1,2,3]}\n");
    await().until(() -> received(device).equals("start\r\nrate 50\r\nagain\u0003\r\n"));
    await().until(() -> agent.sources().get(0).sent().equals("again\\x03"));
  }

  @Test
  void askingIsRepeatedAsOftenAsSet() throws IOException {
    PseudoTerminal device = device();
    awaitOpen(start(device, new AskSettings(List.of("?"), List.of(), 1, Newline.NONE)));
    long began = System.nanoTime();
    await().until(() -> received(device).equals("???"));
    assertThat(Duration.ofNanos(System.nanoTime() - began))
        .isBetween(Duration.ofMillis(1500), Duration.ofSeconds(20));
  }

  @Test
  void nothingIsSentUnlessSet() throws IOException {
    PseudoTerminal device = device();
    Agent agent = start(device, AskSettings.NONE);
    awaitOpen(agent);
    device.write("garbled \u00e4 and chatter\n");
    for (int seq = 0; seq < 50; seq++) {
      device.write(line("T-1", 1000 + seq));
    }
    device.write("{\"id\":\"T-1\",\"seq\":0,\"t_ms\":20,\"temp_c\":25.5,\"gyro_dps\":[1,2,3]}\n");
    await().until(() -> count("T-1") == 51);
    await()
        .during(Duration.ofMillis(1500))
        .atMost(Duration.ofSeconds(10))
        .until(() -> received(device).isEmpty());
    agent.close();
    assertThat(received(device)).isEmpty();
    assertThat(agent.sources().get(0).sent()).isEmpty();
  }

  @Test
  void aDeviceThatTakesNothingHoldsUpNeitherReadingNorClosing() throws IOException {
    PseudoTerminal device = device();
    List<String> texts = Collections.nCopies(16, "x".repeat(256));
    Agent agent = start(device, new AskSettings(texts, texts, 1, Newline.LF));
    awaitOpen(agent);
    // Nobody reads the device's side: what it's sent fills the terminal within seconds.
    await()
        .atMost(Duration.ofSeconds(60))
        .pollInterval(Duration.ofMillis(200))
        .until(
            () -> {
              device.write(line("T-1", count("T-1")));
              return isStuck();
            });
    int before = count("T-1");
    for (int seq = 0; seq < 50; seq++) {
      device.write(line("T-2", seq));
    }
    await().until(() -> count("T-2") == 50);
    assertThat(count("T-1")).isGreaterThanOrEqualTo(before);
    long began = System.nanoTime();
    agent.close();
    assertThat(Duration.ofNanos(System.nanoTime() - began)).isLessThan(Duration.ofSeconds(10));
  }

  /** Whether the asking thread stands in the library's native writing. */
  private static boolean isStuck() {
    return Thread.getAllStackTraces().entrySet().stream()
        .filter(thread -> thread.getKey().getName().equals("asking slot A1"))
        .anyMatch(
            thread ->
                Stream.of(thread.getValue())
                    .anyMatch(frame -> frame.getMethodName().equals("writeBytes")));
  }
}
