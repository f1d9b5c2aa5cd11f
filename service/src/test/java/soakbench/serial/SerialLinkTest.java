package soakbench.serial;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import soakbench.demo.PseudoTerminal;

class SerialLinkTest {
  @TempDir Path folder;
  private final List<AutoCloseable> toClose = new ArrayList<>();

  /** Notes what a link says. */
  private static final class Heard implements SerialLink.Listener {
    final List<String> events = new CopyOnWriteArrayList<>();
    final StringBuffer text = new StringBuffer();

    @Override
    public void opened() {
      events.add("opened");
    }

    @Override
    public void bytes(byte[] buffer, int length) {
      text.append(new String(buffer, 0, length, UTF_8));
    }

    @Override
    public void lost(String reason) {
      events.add("lost: " + reason);
    }

    @Override
    public void cannotOpen(String reason) {
      events.add("cannot open: " + reason);
    }
  }

  @BeforeAll
  static void waitLongEnoughForABusyMachine() {
    Awaitility.setDefaultTimeout(Duration.ofSeconds(30));
  }

  @AfterEach
  void closeAll() throws Exception {
    for (AutoCloseable closeable : toClose) {
      closeable.close();
    }
  }

  private Heard listen(String path) {
    Heard heard = new Heard();
    SerialLink link = new SerialLink(new SerialLink.Port(path, 115200, false), heard);
    toClose.add(link);
    link.start();
    return heard;
  }

  private PseudoTerminal device() throws IOException {
    PseudoTerminal device = new PseudoTerminal();
    toClose.add(device);
    return device;
  }

  @Test
  void whatTheDeviceSendsArrives() throws IOException {
    PseudoTerminal device = device();
    Heard heard = listen(device.path());
    await().until(() -> heard.events.contains("opened"));
    device.write("one\r\ntwo\n");
    await().until(() -> heard.text.toString().equals("one\r\ntwo\n"));
  }

  @Test
  void whatWasSentBeforeOpeningIsThrownAway() throws IOException {
    PseudoTerminal device = device();
    device.write("old\n");
    Heard heard = listen(device.path());
    await().until(() -> heard.events.contains("opened"));
    device.write("new\n");
    await().until(() -> heard.text.length() > 0);
    assertThat(heard.text.toString()).isEqualTo("new\n");
  }

  @Test
  void aPortThatGoesAwayIsFoundAgainUnderItsPath() throws IOException {
    Path link = folder.resolve("slot-A1");
    PseudoTerminal first = device();
    Files.createSymbolicLink(link, Path.of(first.path()));
    Heard heard = listen(link.toString());
    await().until(() -> heard.events.contains("opened"));
    first.close();
    await().until(() -> heard.events.size() >= 2);
    assertThat(heard.events.get(1))
        .isEqualTo("lost: port " + link + " went away; looking for it each second");
    // Another program may have been given the same terminal meanwhile; nobody has this one.
    Files.delete(link);
    Files.createSymbolicLink(link, folder.resolve("gone"));
    String nowhere = "cannot open: port " + link + " leads nowhere";
    await().until(() -> heard.events.stream().anyMatch(e -> e.startsWith(nowhere)));

    Files.delete(link);
    PseudoTerminal second = device();
    Files.createSymbolicLink(link, Path.of(second.path()));
    await().until(() -> heard.events.contains("opened") && heard.events.lastIndexOf("opened") > 1);
    second.write("back\n");
    await().until(() -> heard.text.toString().equals("back\n"));
  }

  @Test
  void anUnknownPortIsToldOnceAndTakenWhenItComes() throws IOException {
    Path path = folder.resolve("not-there-yet");
    Heard heard = listen(path.toString());
    await().until(() -> !heard.events.isEmpty());
    Files.createSymbolicLink(path, Path.of(device().path()));
    await().until(() -> heard.events.contains("opened"));
    assertThat(heard.events)
        .containsExactly(
            "cannot open: port "
                + path
                + " does not exist; plug the tracker in, or set another port for this slot",
            "opened");
  }

  @Test
  void aPortThatThisProgramHasOpenIsBusy() throws IOException {
    PseudoTerminal device = device();
    Heard first = listen(device.path());
    await().until(() -> first.events.contains("opened"));
    Heard second = listen(device.path());
    await().until(() -> !second.events.isEmpty());
    assertThat(second.events.get(0)).contains(device.path() + " is busy");
  }

  @Test
  void whatIsNotASerialPortIsSaidSo() throws IOException {
    Path file = Files.createFile(folder.resolve("notes.txt"));
    for (String path : List.of(file.toString(), folder.toString(), "/dev/null")) {
      Heard heard = listen(path);
      await().until(() -> !heard.events.isEmpty());
      assertThat(heard.events.get(0))
          .isEqualTo(
              "cannot open: port "
                  + path
                  + " is not a serial port; set another port for this slot");
    }
  }

  @Test
  void aHundredPortsAreReadAtOnceAndCloseWithinSeconds() throws IOException {
    List<PseudoTerminal> devices = new ArrayList<>();
    List<Heard> heard = new ArrayList<>();
    List<SerialLink> links = new ArrayList<>();
    for (int i = 0; i < 100; i++) {
      devices.add(device());
      heard.add(new Heard());
      links.add(
          new SerialLink(new SerialLink.Port(devices.get(i).path(), 115200, false), heard.get(i)));
      links.get(i).start();
    }
    await().until(() -> heard.stream().allMatch(h -> h.events.contains("opened")));
    for (int i = 0; i < 100; i += 7) {
      devices.get(i).write("tracker " + i + "\n");
    }
    for (int i = 0; i < 100; i++) {
      String expected = i % 7 == 0 ? "tracker " + i + "\n" : "";
      Heard port = heard.get(i);
      await().until(() -> port.text.toString().equals(expected));
    }
    long began = System.nanoTime();
    links.forEach(SerialLink::stop);
    links.forEach(SerialLink::close);
    assertThat(Duration.ofNanos(System.nanoTime() - began)).isLessThan(Duration.ofSeconds(5));
  }
}
