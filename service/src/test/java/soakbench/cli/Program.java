package soakbench.cli;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;

/** A command of the program in a process of its own, so that it can be killed. */
final class Program implements AutoCloseable {
  private final Process process;

  private Program(Process process) {
    this.process = process;
  }

  /**
   * Starts a command and waits until it prints a line.
   *
   * @param heapMib most memory it may have; it ends at once when that is not enough
   * @param ready how a line begins that says it is at work
   * @return null if it ended before it said so
   */
  static Program start(int heapMib, String ready, List<String> arguments) throws IOException {
    List<String> command =
        new ArrayList<>(
            List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-Xmx" + heapMib + "m",
                "-XX:+ExitOnOutOfMemoryError",
                "-XX:+UseSerialGC",
                "-XX:TieredStopAtLevel=1",
                "-cp",
                System.getProperty("java.class.path"),
                Main.class.getName()));
    command.addAll(arguments);
    Process process =
        new ProcessBuilder(command).redirectError(ProcessBuilder.Redirect.INHERIT).start();
    BufferedReader out =
        new BufferedReader(new InputStreamReader(process.getInputStream(), StandardCharsets.UTF_8));
    for (String line = out.readLine(); line != null; line = out.readLine()) {
      if (line.startsWith(ready)) {
        return new Program(process);
      }
    }
    return null;
  }

  boolean isAlive() {
    return process.isAlive();
  }

  double residentMib() throws IOException {
    return ProcessCost.residentMib(process.pid());
  }

  /** Signal 9: no hook runs, nothing is flushed. */
  void kill() throws InterruptedException {
    process.destroyForcibly();
    process.waitFor();
  }

  @Override
  public void close() {
    process.destroy();
    try {
      if (!process.waitFor(30, TimeUnit.SECONDS)) {
        process.destroyForcibly();
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}
