package soakbench.cli;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;

/** {@code serve} in a process of its own, so that it can be killed. */
final class ServeProcess implements AutoCloseable {
  private final Process process;
  private final URI url;

  private ServeProcess(Process process, URI url) {
    this.process = process;
    this.url = url;
  }

  /** Starts it and waits for the address of its board. */
  static ServeProcess start(Path data, Path rack) throws IOException {
    List<String> command =
        new ArrayList<>(
            List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-cp",
                System.getProperty("java.class.path"),
                Main.class.getName(),
                "serve",
                "--data",
                data.toString(),
                "--port",
                "0"));
    if (rack != null) {
      command.addAll(List.of("--rack", rack.toString()));
    }
    Process process =
        new ProcessBuilder(command).redirectError(ProcessBuilder.Redirect.INHERIT).start();
    BufferedReader out =
        new BufferedReader(new InputStreamReader(process.getInputStream(), StandardCharsets.UTF_8));
    for (String line = out.readLine(); line != null; line = out.readLine()) {
      if (line.startsWith("board at ")) {
        return new ServeProcess(process, URI.create(line.substring("board at ".length()).strip()));
      }
    }
    process.destroyForcibly();
    throw new AssertionError("serve ended without an address; its message is above");
  }

  Asked asked() {
    return new Asked(url);
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
