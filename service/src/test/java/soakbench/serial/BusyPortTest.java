package soakbench.serial;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.BufferedReader;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import soakbench.demo.PseudoTerminal;

class BusyPortTest {

  @Test
  void aPortHeldByAnotherProgramIsBusyUntilThatProgramEnds() throws Exception {
    try (PseudoTerminal device = new PseudoTerminal()) {
      Process holder = holder(device.path());
      LinkedBlockingQueue<String> events = new LinkedBlockingQueue<>();
      SerialLink link = link(device.path(), events);
      try {
        BufferedReader says = holder.inputReader();
        assertThat(says.readLine()).isEqualTo("opened");
        link.start();
        assertThat(events.poll(10, TimeUnit.SECONDS))
            .isEqualTo(
                "port " + device.path() + " is busy: another program holds it; close that program");
        holder.getOutputStream().close();
        assertThat(events.poll(10, TimeUnit.SECONDS)).isEqualTo("opened");
      } finally {
        link.close();
        holder.destroyForcibly().waitFor();
      }
    }
  }

  @Test
  void whereTheNativeCodeCannotBeLoadedTheFolderToSetIsNamed() throws Exception {
    try (PseudoTerminal device = new PseudoTerminal()) {
      Process holder = holder(device.path(), "-Djava.io.tmpdir=/dev/null", "-Duser.home=/dev/null");
      try {
        assertThat(holder.inputReader().readLine())
            .startsWith("serial ports can't be used")
            .contains("from /dev/null", "-Djava.io.tmpdir=FOLDER");
      } finally {
        holder.destroyForcibly().waitFor();
      }
    }
  }

  private static Process holder(String path, String... options) throws IOException {
    String java = Path.of(System.getProperty("java.home"), "bin", "java").toString();
    String classes = System.getProperty("java.class.path");
    List<String> command = new ArrayList<>(List.of(java));
    command.addAll(List.of(options));
    command.addAll(List.of("-cp", classes, PortHolder.class.getName(), path));
    return new ProcessBuilder(command).redirectError(ProcessBuilder.Redirect.INHERIT).start();
  }

  private static SerialLink link(String path, LinkedBlockingQueue<String> events) {
    return new SerialLink(
        new SerialLink.Port(path, 115200, false),
        new SerialLink.Listener() {
          @Override
          public void opened() {
            events.add("opened");
          }

          @Override
          public void bytes(byte[] buffer, int length) {}

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
