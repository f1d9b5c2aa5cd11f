package soakbench.ingest;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import soakbench.demo.PseudoTerminal;
import soakbench.ingest.rackfile.LineSettings;
import soakbench.ingest.rackfile.PortSettings;
import soakbench.ingest.rackfile.RackFile;
import soakbench.ingest.rackfile.SlotBinding;
import soakbench.ingest.source.SourceStatus;
import soakbench.lines.Rejection.Kind;
import soakbench.model.Sample;

/**
 * Devices that come, go and move, on pseudo-terminals; see {@link Sockets} for what is not real.
 */
class AgentWiringTest extends AgentRig {
  private final Sockets sockets = new Sockets();

  @BeforeEach
  void findPseudoTerminals() {
    finder = sockets;
  }

  private PseudoTerminal plug(String usb, String serialNumber) throws IOException {
    PseudoTerminal device = device();
    sockets.plug(device, usb, serialNumber);
    return device;
  }

  private static RackFile.Slot slot(String name, SlotBinding binding, String tracker) {
    return new RackFile.Slot(
        name, binding, PortSettings.USUAL, new LineSettings(tracker, null, null));
  }

  private static RackFile.Slot socket(String name, String usb) {
    return slot(name, new SlotBinding("", usb, ""), null);
  }

  private static RackFile.Slot searched(String name, String tracker) {
    return slot(name, new SlotBinding("", "", ""), tracker);
  }

  private static void write(PseudoTerminal device, String id, int from, int to) {
    IntStream.range(from, to)
        .forEach(
            seq -> {
              String line = line(id, seq);
              assertThat(device.write(line)).isEqualTo(line.length());
            });
  }

  private void assertStored(String tracker, List<Long> seqs) {
    await().until(() -> count(tracker) >= seqs.size());
    assertThat(stored.get(tracker)).extracting(Sample::seq).isEqualTo(seqs);
    assertThat(stored.get(tracker)).extracting(Sample::timeUs).isSorted().doesNotHaveDuplicates();
  }

  private static List<Long> range(int from, int to) {
    return IntStream.range(from, to).mapToObj(i -> (long) i).toList();
  }

  private static SourceStatus status(Agent agent, int index) {
    return agent.sources().get(index);
  }

  @Test
  void aPortThatVanishesMidLineAndComesBackUnderAnotherNameInItsSocketIsTheSameSlot()
      throws IOException {
    PseudoTerminal first = plug("1-1.2", "");
    PseudoTerminal other = plug("1-1.3", "");
    Agent agent = start(List.of(socket("A1", "1-1.2"), socket("A2", "1-1.3")));
    awaitOpen(agent);
    write(first, "T-1", 0, 50);
    first.write("{\"id\":\"T-1\",\"seq\":50,\"t_m");
    await().until(() -> status(agent, 0).heard().counts().readings() == 50);
    sockets.unplug(first);
    await().until(() -> !status(agent, 0).open());
    // The first name is free again: whatever takes it now, it's not what the slot finds.
    PseudoTerminal stray = plug("9-9", "");
    PseudoTerminal second = plug("1-1.2", "");
    assertThat(second.path()).isNotEqualTo(first.path());
    awaitOpen(agent);
    assertThat(status(agent, 0).port()).isEqualTo(second.path());
    second.write("s\":4000}\n");
    write(second, "T-1", 51, 100);
    write(other, "T-2", 0, 10);
    stray.write(line("T-9", 0));
    List<Long> expected = new ArrayList<>(range(0, 50));
    expected.addAll(range(51, 100));
    assertStored("T-1", expected);
    assertStored("T-2", range(0, 10));
    assertThat(status(agent, 0).heard().counts().of(Kind.HALF_LINE)).isEqualTo(1);
    assertThat(stored).doesNotContainKey("T-9");
  }

  @Test
  void aDeviceThatIsPluggedInLaterIsFoundByItsNumberOrItsName() throws IOException {
    PseudoTerminal byName = device();
    Path links = Files.createDirectory(folder.resolve("by-id"));
    Agent agent =
        start(
            List.of(
                slot("A1", new SlotBinding("", "", "S-77"), null),
                slot("A2", SlotBinding.port(links + "/adapter-*-port0"), null)));
    await().until(() -> status(agent, 0).reason().contains("number S-77"));
    await().until(() -> status(agent, 1).reason().contains("adapter-*-port0"));
    PseudoTerminal byNumber = plug("1-2", "S-77");
    Files.createSymbolicLink(links.resolve("adapter-5-port0"), Path.of(byName.path()));
    awaitOpen(agent);
    write(byNumber, "T-1", 0, 20);
    write(byName, "T-2", 0, 20);
    assertStored("T-1", range(0, 20));
    assertStored("T-2", range(0, 20));
  }

  @Test
  void slotsBoundByTrackerAreWhereTheirIdsAreHeard() throws IOException {
    PseudoTerminal one = plug("1-1", "");
    PseudoTerminal named = plug("1-2", "");
    Agent agent = start(List.of(searched("A1", "T-1"), searched("A2", "T-2"), socket("B1", "1-2")));
    await().until(() -> agent.sources().size() == 4 && status(agent, 3).open());
    assertThat(status(agent, 0).reason()).isEqualTo("T-1 is not heard at any of 1 other ports");
    write(one, "T-1", 0, 10);
    PseudoTerminal late = plug("1-3", "");
    await().until(() -> agent.sources().stream().anyMatch(s -> s.port().equals(late.path())));
    await()
        .until(
            () ->
                agent.sources().stream()
                    .filter(s -> s.port().equals(late.path()))
                    .allMatch(SourceStatus::open));
    write(late, "T-2", 0, 10);
    assertStored("T-1", range(0, 10));
    assertStored("T-2", range(0, 10));
    assertThat(status(agent, 0).port()).isEqualTo(one.path());
    assertThat(status(agent, 1).port()).isEqualTo(late.path());
    assertThat(agent.sources()).hasSize(3);

    write(named, "T-1", 10, 20);
    sockets.unplug(one);
    await().until(() -> status(agent, 0).port().isEmpty());
    write(named, "T-1", 20, 30);
    assertStored("T-1", range(0, 30));
    assertThat(status(agent, 0).reason()).isEqualTo("T-1 is heard at slot B1");
  }

  @Test
  void whereEverySlotNamesItsPortNoOtherIsOpened() throws Exception {
    PseudoTerminal asked = plug("1-1", "");
    PseudoTerminal left = plug("1-2", "");
    Agent agent = start(List.of(socket("A1", "1-1")));
    awaitOpen(agent);
    write(asked, "T-1", 0, 5);
    write(left, "T-2", 0, 5);
    assertStored("T-1", range(0, 5));
    // Were it open, another program could not open it.
    Agent other = start(List.of(new RackFile.Slot("B1", left.path())));
    awaitOpen(other);
    assertThat(agent.sources()).hasSize(1);
    assertThat(stored).doesNotContainKey("T-2");
  }

  @Test
  void anIdThatMovesBetweenPortsGoesOnWithoutLossThoughTheOldPortStays() throws Exception {
    // No hand is as quick as a port's reader is late beside other programs of tests.
    movesBetweenPorts(() -> assertStored("T-1", range(0, 50)));
  }

  @Test
  @Tag("bench")
  void orMovesWithinTwentyMilliseconds() throws Exception {
    movesBetweenPorts(() -> {});
  }

  private void movesBetweenPorts(Runnable meanwhile) throws Exception {
    PseudoTerminal from = plug("1-1", "");
    PseudoTerminal to = plug("1-2", "");
    Agent agent = start(List.of(socket("A1", "1-1"), socket("A2", "1-2")));
    awaitOpen(agent);
    every(Duration.ofMillis(20), 50, seq -> write(from, "T-1", seq, seq + 1));
    meanwhile.run();
    every(Duration.ofMillis(20), 250, i -> write(to, "T-1", 50 + i, 51 + i));
    assertStored("T-1", range(0, 300));
    assertThat(status(agent, 0).heard().lost()).isZero();
    assertThat(status(agent, 1).heard().lost()).isZero();
    assertThat(status(agent, 1).reason()).isEmpty();
  }

  @Test
  void twoTrackersWithOneIdAreNotMixedAndBothPortsSaySo() throws Exception {
    PseudoTerminal first = plug("1-1", "");
    PseudoTerminal second = plug("1-2", "");
    Agent agent = start(List.of(socket("A1", "1-1"), socket("A2", "1-2")));
    awaitOpen(agent);
    write(first, "T-1", 0, 2);
    await().until(() -> count("T-1") == 2);
    every(
        Duration.ofMillis(20),
        100,
        i -> {
          write(second, "T-1", 70_000 + i, 70_001 + i);
          write(first, "T-1", 2 + i, 3 + i);
        });
    assertStored("T-1", range(0, 102));
    assertThat(status(agent, 0).reason())
        .isEqualTo(
            "T-1 comes from slot A2 as well: the lines from here are taken; give one of the two"
                + " another id, or unplug one");
    assertThat(status(agent, 1).reason()).contains("slot A1", "are not taken");
    long refused = status(agent, 1).heard().counts().of(Kind.OTHER_SOURCE);
    assertThat(refused + status(agent, 1).heard().counts().readings()).isEqualTo(100);
    assertThat(refused).isGreaterThan(90);
  }

  @Test
  void aRateThatIsNotSetIsSearchedWhileOnlyGarbageComes() throws Exception {
    PseudoTerminal device = plug("1-1", "");
    Agent agent = start(List.of(socket("A1", "1-1")));
    awaitOpen(agent);
    assertThat(status(agent, 0).way().baud()).isEqualTo(115_200);
    byte[] garbage = new byte[64];
    Arrays.fill(garbage, (byte) 0xb5);
    await()
        .pollInterval(Duration.ofMillis(50))
        .until(
            () -> {
              device.write(garbage);
              return status(agent, 0).way().baud() == 921_600;
            });
    assertThat(speed(device)).as("as the system tells it").isEqualTo("921600");
    assertThat(status(agent, 0).reason()).isEqualTo("can't be read at 115200 baud; trying 921600");
    device.write("\n");
    write(device, "T-1", 0, 5);
    await().until(() -> count("T-1") >= 4);
    assertThat(status(agent, 0).reason()).isEmpty();
    assertThat(status(agent, 0).way().baud()).isEqualTo(921_600);
  }

  private static String speed(PseudoTerminal device) throws Exception {
    Process stty = new ProcessBuilder("stty", "-F", device.path(), "speed").start();
    String said = new String(stty.getInputStream().readAllBytes()).strip();
    assertThat(stty.waitFor()).isZero();
    return said;
  }
}
