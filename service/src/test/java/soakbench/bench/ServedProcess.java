package soakbench.bench;

import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import soakbench.cli.options.CommandException;

/** {@code serve} with a database of its own, in a process of its own. */
public record ServedProcess(Program program, URI url) implements AutoCloseable {
  private static final String BOARD = "board at ";

  /**
   * Starts it, on any free port, and waits for the address of its board.
   *
   * @param data folder of its database
   * @param rackFile the rack it reads, or null
   * @throws CommandException if it ended without an address
   */
  public static ServedProcess start(Path data, Path rackFile) throws IOException {
    return start(data, rackFile, Program.LAUNCHED);
  }

  /** The same, at work sooner, for tests that don't measure what it costs. */
  public static ServedProcess soon(Path data, Path rackFile) throws IOException {
    return start(data, rackFile, Program.soon());
  }

  static ServedProcess start(Path data, Path rackFile, List<String> virtualMachine)
      throws IOException {
    List<String> arguments =
        new ArrayList<>(List.of("serve", "--data", data.toString(), "--port", "0"));
    if (rackFile != null) {
      arguments.addAll(List.of("--rack", rackFile.toString()));
    }
    Program program = Program.start(virtualMachine, BOARD, arguments);
    return new ServedProcess(program, URI.create(program.said()));
  }

  /** Waits until it says that it is well. */
  void awaitHealth() throws IOException, InterruptedException {
    HttpClient http = HttpClient.newHttpClient();
    HttpRequest ask = HttpRequest.newBuilder(url.resolve("health")).build();
    while (http.send(ask, HttpResponse.BodyHandlers.discarding()).statusCode() != 200) {
      TimeUnit.MILLISECONDS.sleep(50);
    }
  }

  /** Which process it is. */
  public long pid() {
    return program.pid();
  }

  /** Signal 9. */
  public void kill() throws InterruptedException {
    program.kill();
  }

  /** Stops it and waits. */
  @Override
  public void close() {
    program.close();
  }
}
