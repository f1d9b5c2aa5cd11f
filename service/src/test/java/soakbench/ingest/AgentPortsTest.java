package soakbench.ingest;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import soakbench.demo.PseudoTerminal;
import soakbench.ingest.rackfile.LineSettings;
import soakbench.ingest.rackfile.PortSettings;
import soakbench.ingest.rackfile.RackFile;
import soakbench.ingest.rackfile.SlotBinding;
import soakbench.ingest.source.SourceStatus;
import soakbench.lines.Rejection.Kind;
import soakbench.model.Sample;

class AgentPortsTest extends AgentRig {

  @Test
  void aRackOfTwelveAtFiftyLinesASecondIsStoredWhole() throws Exception {
    List<PseudoTerminal> devices = new ArrayList<>();
    for (int i = 0; i < 12; i++) {
      devices.add(device());
    }
    Agent agent = start(slots(devices));
    awaitOpen(agent);
    int lines = 500;
    every(
        Duration.ofMillis(20),
        lines,
        seq -> {
          for (int i = 0; i < devices.size(); i++) {
            String line = line("T-" + i, seq);
            assertThat(devices.get(i).write(line)).isEqualTo(line.length());
          }
        });
    for (int i = 0; i < devices.size(); i++) {
      String tracker = "T-" + i;
      await().until(() -> count(tracker) == lines);
      assertThat(stored.get(tracker)).extracting(Sample::seq).isSorted().doesNotHaveDuplicates();
      assertThat(stored.get(tracker)).extracting(Sample::timeUs).isSorted().doesNotHaveDuplicates();
    }
    SourceStatus status = agent.sources().get(3);
    assertThat(status.slot()).isEqualTo("A4");
    assertThat(status.heard().trackers()).containsExactly("T-3");
    assertThat(status.heard().counts().readings()).isEqualTo(lines);
    assertThat(status.heard().linesPerS()).isBetween(20.0, 80.0);
    assertThat(agent.totals().accepted()).isEqualTo(12L * lines);
  }

  @Test
  void aPortThatGoesAwayMidLineIsTakenUpAgainUnderItsPath() throws IOException {
    Path link = folder.resolve("slot");
    PseudoTerminal first = device();
    Files.createSymbolicLink(link, Path.of(first.path()));
    Agent agent = start(List.of(new RackFile.Slot("A1", link.toString())));
    awaitOpen(agent);
    first.write(line("T-1", 0) + line("T-1", 1) + "{\"id\":\"T-1\",\"seq\":2,\"t_m");
    await().until(() -> agent.sources().get(0).heard().counts().readings() == 2);
    // The half line is read with the two before it, or just after them.
    first.close();
    await().until(() -> !agent.sources().get(0).open());
    assertThat(agent.sources().get(0).reason()).contains(link.toString());

    Files.delete(link);
    PseudoTerminal second = device();
    Files.createSymbolicLink(link, Path.of(second.path()));
    awaitOpen(agent);
    second.write("s\":1}\n" + line("T-1", 3));
    await().until(() -> count("T-1") == 3);
    assertThat(stored.get("T-1")).extracting(Sample::seq).containsExactly(0L, 1L, 3L);
    assertThat(agent.sources().get(0).heard().counts().of(Kind.HALF_LINE)).isEqualTo(1);
    assertThat(agent.sources().get(0).heard().counts().of(Kind.CHATTER)).isEqualTo(1);
  }

  @Test
  void aMissingAndABusyPortAreToldAndStopNobody() throws IOException {
    PseudoTerminal good = device();
    Agent agent =
        start(
            List.of(
                new RackFile.Slot("A1", folder.resolve("none").toString()),
                new RackFile.Slot("A2", good.path())));
    await().until(() -> agent.sources().get(1).open());
    Agent other = start(List.of(new RackFile.Slot("B1", good.path())));
    await().until(() -> other.sources().get(0).reason().contains("is busy"));
    assertThat(agent.sources().get(0).reason()).contains("does not exist");
    good.write(line("T-1", 0) + line("T-1", 1));
    await().until(() -> count("T-1") == 2);
  }

  @Test
  void aHundredPortsAreHeardThoughMostAreSilent() throws Exception {
    List<PseudoTerminal> devices = new ArrayList<>();
    for (int i = 0; i < 100; i++) {
      devices.add(device());
    }
    Agent agent = start(slots(devices));
    awaitOpen(agent);
    every(
        Duration.ofMillis(20),
        50,
        seq -> {
          for (int i = 0; i < 100; i += 10) {
            devices.get(i).write(line("T-" + i, seq));
          }
        });
    for (int i = 0; i < 100; i += 10) {
      String tracker = "T-" + i;
      await().until(() -> count(tracker) == 50);
    }
    assertThat(stored).hasSize(10);
  }

  @Test
  void chatterAndHalfLinesAreCountedWithAnExample() throws IOException {
    PseudoTerminal device = device();
    Agent agent = start(slots(List.of(device)));
    awaitOpen(agent);
    device.write("\nboot v3\n" + line("T-1", 0) + "{\"id\":\"T-1\"\n" + line("T-1", 1));
    await().until(() -> count("T-1") == 2);
    var rejected = agent.sources().get(0).heard().counts().rejected();
    assertThat(rejected.get(Kind.CHATTER).example()).isEqualTo("boot v3");
    assertThat(rejected.get(Kind.HALF_LINE).example()).isEqualTo("{\"id\":\"T-1\"");
  }

  @Test
  void linesWithoutAnIdBelongToTheSlotsTracker() throws IOException {
    PseudoTerminal named = device();
    PseudoTerminal unnamed = device();
    Agent agent =
        start(
            List.of(
                new RackFile.Slot(
                    "A1",
                    SlotBinding.port(named.path()),
                    PortSettings.USUAL,
                    new LineSettings("T-7", "t_ms,temp_c", null)),
                new RackFile.Slot("A2", unnamed.path())));
    awaitOpen(agent);
    named.write("\n5,20.5\n25,20.6\n");
    unnamed.write("{\"t_ms\":5,\"temp_c\":20}\n");
    await().until(() -> agent.sources().get(1).heard().counts().of(Kind.NO_ID) == 1);
    await().until(() -> agent.sources().get(0).heard().counts().readings() == 2);
    agent.close();
    assertThat(stored).containsOnlyKeys("T-7");
    assertThat(stored.get("T-7")).extracting(Sample::temperatureC).containsExactly(20.5f, 20.6f);
  }
}
