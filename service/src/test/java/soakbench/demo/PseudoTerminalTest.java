package soakbench.demo;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.ByteArrayOutputStream;
import java.io.DataInputStream;
import java.io.FileInputStream;
import java.io.FileOutputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.HashSet;
import java.util.Set;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.Test;

class PseudoTerminalTest {

  @Test
  void whatTheDeviceWritesIsReadAtThePathUnchanged() throws IOException {
    byte[] everyByte = new byte[256];
    for (int i = 0; i < everyByte.length; i++) {
      everyByte[i] = (byte) i;
    }
    try (PseudoTerminal device = new PseudoTerminal();
        FileInputStream port = new FileInputStream(device.path())) {
      assertThat(device.write(everyByte)).isEqualTo(everyByte.length);
      byte[] heard = new byte[everyByte.length];
      new DataInputStream(port).readFully(heard);
      assertThat(heard).isEqualTo(everyByte);
      assertThat(device.read()).as("echo").isEmpty();
    }
  }

  @Test
  void theDeviceReadsWhatTheProgramSends() throws IOException {
    try (PseudoTerminal device = new PseudoTerminal();
        FileOutputStream port = new FileOutputStream(device.path())) {
      port.write("status?\r\n".getBytes(UTF_8));
      ByteArrayOutputStream heard = new ByteArrayOutputStream();
      Awaitility.await()
          .until(
              () -> {
                heard.writeBytes(device.read());
                return heard.size() == 9;
              });
      assertThat(heard.toString(UTF_8)).isEqualTo("status?\r\n");
    }
  }

  @Test
  void withNobodyReadingItDropsAndDoesNotWait() throws IOException {
    byte[] line = new byte[1000];
    Arrays.fill(line, (byte) 'x');
    try (PseudoTerminal device = new PseudoTerminal()) {
      int taken = 0;
      for (int i = 0; i < 1000; i++) {
        taken += device.write(line);
      }
      assertThat(taken).isBetween(1000, 200_000);
      assertThat(device.write(line)).isZero();
    }
  }

  @Test
  void aClosedDeviceEndsTheProgramsReading() throws IOException {
    PseudoTerminal device = new PseudoTerminal();
    Path path = Path.of(device.path());
    try (FileInputStream port = new FileInputStream(path.toFile())) {
      device.close();
      assertThat(port.read()).isEqualTo(-1);
    }
    assertThat(Files.exists(path)).isFalse();
    device.close();
    assertThatThrownBy(() -> device.write("x")).isInstanceOf(IllegalStateException.class);
    assertThatThrownBy(device::read).isInstanceOf(IllegalStateException.class);
  }

  @Test
  void aHundredHaveDifferentPaths() throws IOException {
    Set<String> paths = new HashSet<>();
    PseudoTerminal[] devices = new PseudoTerminal[100];
    try {
      for (int i = 0; i < devices.length; i++) {
        devices[i] = new PseudoTerminal();
        paths.add(devices[i].path());
      }
      assertThat(paths).hasSize(devices.length);
    } finally {
      for (PseudoTerminal device : devices) {
        if (device != null) {
          device.close();
        }
      }
    }
  }
}
