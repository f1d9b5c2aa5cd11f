package soakbench.cli;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;

/** {@code serve} in a process of its own, for measurements. */
record ServedProcess(Process process, URI url) implements AutoCloseable {

  /**
   * Starts it and waits until it is healthy.
   *
   * @param data folder of its database
   * @param rackFile the rack it reads, or null
   */
  static ServedProcess start(Path data, Path rackFile) throws IOException, InterruptedException {
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
    if (rackFile != null) {
      command.addAll(List.of("--rack", rackFile.toString()));
    }
    Process process =
        new ProcessBuilder(command).redirectError(ProcessBuilder.Redirect.INHERIT).start();
    try {
      ServedProcess started = new ServedProcess(process, url(process));
      started.awaitHealth();
      return started;
    } catch (IOException | InterruptedException | RuntimeException e) {
      process.destroy();
      throw e;
    }
  }

  private static URI url(Process process) throws IOException {
    BufferedReader lines =
        new BufferedReader(new InputStreamReader(process.getInputStream(), StandardCharsets.UTF_8));
    for (String line = lines.readLine(); line != null; line = lines.readLine()) {
      if (line.startsWith("board at ")) {
        return URI.create(line.substring("board at ".length()).trim());
      }
    }
    throw new Failure("serve ended before it answered; see its message above");
  }

  private void awaitHealth() throws IOException, InterruptedException {
    HttpClient http = HttpClient.newHttpClient();
    HttpRequest ask = HttpRequest.newBuilder(url.resolve("health")).build();
    while (http.send(ask, HttpResponse.BodyHandlers.discarding()).statusCode() != 200) {
      TimeUnit.MILLISECONDS.sleep(50);
    }
  }

  long pid() {
    return process.pid();
  }

  /** Stops it and waits, for half a minute at most. */
  @Override
  public void close() throws InterruptedException {
    process.destroy();
    process.waitFor(30, TimeUnit.SECONDS);
  }
}
