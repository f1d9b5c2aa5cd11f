package soakbench.cli;

import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.net.ConnectException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import soakbench.api.http.Json;
import soakbench.bench.Program;

/** A command in a process of its own whose start is watched: what it says goes to a file. */
public final class Serving implements AutoCloseable {
  private static final Duration PATIENCE = Duration.ofSeconds(180);
  private static final String LISTENS = "listening on port ";
  private static final HttpClient HTTP =
      HttpClient.newBuilder().connectTimeout(Duration.ofSeconds(5)).build();

  public final Process process;
  final Path said;

  private Serving(Process process, Path said) {
    this.process = process;
    this.said = said;
  }

  /** {@code serve} with these options. */
  public static Serving start(Path said, String... more) throws IOException {
    List<String> serve = new ArrayList<>(List.of("serve"));
    if (!List.of(more).contains("--port")) {
      serve.addAll(List.of("--port", "0"));
    }
    serve.addAll(List.of(more));
    return command(said, serve.toArray(String[]::new));
  }

  /** Any command. */
  public static Serving command(Path said, String... arguments) throws IOException {
    List<String> virtualMachine = new ArrayList<>(Program.soon());
    // So what it says is read here.
    virtualMachine.add("-Dfile.encoding=UTF-8");
    List<String> command = Program.command(virtualMachine, Main.class, List.of(arguments));
    Process process =
        new ProcessBuilder(command).redirectErrorStream(true).redirectOutput(said.toFile()).start();
    return new Serving(process, said);
  }

  public String text() throws IOException {
    return Files.exists(said) ? Files.readString(said) : "";
  }

  public void awaitSaid(String words) {
    await()
        .atMost(PATIENCE)
        .pollInterval(Duration.ofMillis(20))
        .until(() -> text().contains(words) || !process.isAlive());
  }

  public URI url() throws IOException {
    awaitSaid(LISTENS);
    String port = text().replaceFirst("(?s).*" + LISTENS, "").replaceFirst("(?s)[^0-9].*", "");
    return URI.create("http://127.0.0.1:" + port + "/");
  }

  /** Waits until it is well, or ended. */
  public void awaitWell() throws IOException {
    URI health = url().resolve("health");
    await()
        .atMost(PATIENCE)
        .pollInterval(Duration.ofMillis(100))
        .until(() -> !process.isAlive() || isWell(health));
  }

  private boolean isWell(URI health) throws IOException, InterruptedException {
    try {
      return get(health).statusCode() == 200;
    } catch (AssertionError e) {
      if (process.isAlive()) {
        throw e;
      }
      // It ended between the two questions.
      return true;
    }
  }

  public static HttpResponse<String> get(URI url) throws IOException, InterruptedException {
    return send(HttpRequest.newBuilder(url).timeout(Duration.ofSeconds(30)).build());
  }

  public static HttpResponse<String> send(HttpRequest ask)
      throws IOException, InterruptedException {
    try {
      return HTTP.send(ask, HttpResponse.BodyHandlers.ofString());
    } catch (ConnectException e) {
      throw new AssertionError(ask.uri() + " does not listen", e);
    }
  }

  public static JsonNode json(HttpResponse<String> answer) throws IOException {
    return Json.mapper().readTree(answer.body());
  }

  public void signal(String name) throws IOException, InterruptedException {
    signal(process.toHandle(), name);
  }

  public static void signal(ProcessHandle process, String name)
      throws IOException, InterruptedException {
    new ProcessBuilder("kill", "-" + name, Long.toString(process.pid()))
        .redirectErrorStream(true)
        .redirectOutput(ProcessBuilder.Redirect.DISCARD)
        .start()
        .waitFor();
  }

  @Override
  public void close() throws InterruptedException {
    process.destroy();
    if (!process.waitFor(60, java.util.concurrent.TimeUnit.SECONDS)) {
      process.destroyForcibly().waitFor();
      throw new AssertionError("did not stop within a minute");
    }
  }
}
