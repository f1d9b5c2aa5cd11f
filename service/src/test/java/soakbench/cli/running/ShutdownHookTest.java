package soakbench.cli.running;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;

class ShutdownHookTest {
  /** A program that is told to stop before what it closes is there. */
  static final class StoppedEarly {
    private StoppedEarly() {}

    public static void main(String[] args) {
      Thread late =
          new Thread(
              () -> {
                ShutdownHook until = ShutdownHook.closing(() -> System.out.println("closed"));
                System.out.println("stopping: " + until.isStopping());
              });
      Runtime.getRuntime().addShutdownHook(late);
      System.exit(0);
    }
  }

  @Test
  void whatIsThereOnlyAfterTheProgramWasToldToStopIsClosedAtOnce() throws Exception {
    Process process =
        new ProcessBuilder(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-cp",
                System.getProperty("java.class.path"),
                StoppedEarly.class.getName())
            .redirectErrorStream(true)
            .start();
    String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    assertThat(process.waitFor()).isZero();
    assertThat(said.lines()).containsExactly("closed", "stopping: true");
  }
}
