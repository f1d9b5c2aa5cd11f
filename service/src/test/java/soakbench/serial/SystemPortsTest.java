package soakbench.serial;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.lang.management.ManagementFactory;
import java.lang.management.ThreadMXBean;
import java.nio.charset.StandardCharsets;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import soakbench.demo.PseudoTerminal;

class SystemPortsTest {
  private final SystemPorts ports = new SystemPorts();

  @Test
  void theSamePortsAreFoundAsTheLibraryFindsItself() {
    assertThat(ports.find()).isEqualTo(SerialPorts.list()).isEqualTo(ports.find());
  }

  @Test
  void lookingOnceASecondCostsUnderOnePercentOfACore() {
    ThreadMXBean threads = ManagementFactory.getThreadMXBean();
    ports.find();
    long beganNs = threads.getCurrentThreadCpuTime();
    int looks = 200;
    for (int i = 0; i < looks; i++) {
      ports.find();
    }
    double usEach = (threads.getCurrentThreadCpuTime() - beganNs) / 1e3 / looks;
    System.out.printf("looking for ports: %.0f us of CPU each%n", usEach);
    assertThat(usEach).isLessThan(10_000);
  }

  @Test
  void lookingDoesNotDisturbAnOpenPort() throws Exception {
    LinkedBlockingQueue<String> events = new LinkedBlockingQueue<>();
    StringBuffer heard = new StringBuffer();
    try (PseudoTerminal device = new PseudoTerminal();
        SerialLink link = link(device.path(), events, heard)) {
      link.start();
      assertThat(events.poll(30, TimeUnit.SECONDS)).isEqualTo("opened");
      StringBuilder sent = new StringBuilder();
      for (int i = 0; i < 200; i++) {
        String line = "line " + i + "\n";
        sent.append(line);
        assertThat(device.write(line)).isEqualTo(line.length());
        SerialPorts.list();
      }
      await().until(() -> heard.length() == sent.length());
      assertThat(heard.toString()).isEqualTo(sent.toString());
      assertThat(events).isEmpty();
    }
  }

  private static SerialLink link(
      String path, LinkedBlockingQueue<String> events, StringBuffer heard) {
    return new SerialLink(
        new SerialLink.Port(path, 115200, false),
        new SerialLink.Listener() {
          @Override
          public void opened() {
            events.add("opened");
          }

          @Override
          public void bytes(byte[] buffer, int length) {
            heard.append(new String(buffer, 0, length, StandardCharsets.UTF_8));
          }

          @Override
          public void lost(String reason) {
            events.add(reason);
          }

          @Override
          public void cannotOpen(String reason) {
            events.add(reason);
          }
        });
  }
}
