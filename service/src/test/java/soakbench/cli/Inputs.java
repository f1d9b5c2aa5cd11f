package soakbench.cli;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.net.DatagramPacket;
import java.net.DatagramSocket;
import java.net.InetSocketAddress;
import java.net.Socket;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import soakbench.bench.ServedProcess;
import soakbench.demo.PseudoTerminal;
import soakbench.ingest.Agent;
import soakbench.ingest.rackfile.RackFile;
import soakbench.ingest.sending.HttpDestination;
import soakbench.ingest.spool.SqliteSpool;
import soakbench.store.server.ReadyFolder;

/** A service as users start it, and every way by which a line can get into it. */
public final class Inputs implements AutoCloseable {
  private static final Duration PATIENCE = Duration.ofSeconds(60);

  /** How a line comes in. */
  public enum Input {
    PORT,
    /** Each datagram from a socket of its own, as small network stacks and shells send them. */
    UDP,
    TCP,
    HTTP,
    /** A port of another computer, whose agent sends what it reads. */
    AGENT
  }

  private final HttpClient http = HttpClient.newHttpClient();
  private final PseudoTerminal port;
  private final PseudoTerminal agentPort;
  private final ServedProcess service;
  private final Asked asked;
  private final InetSocketAddress udp;
  private final Socket tcp;
  private final SqliteSpool spool;
  private final Agent agent;

  /**
   * @param folder for the database, the rack file and the agent's spool
   */
  public Inputs(Path folder) throws IOException {
    port = new PseudoTerminal();
    agentPort = new PseudoTerminal();
    Path rack =
        Files.writeString(
            folder.resolve("rack.yaml"),
            """
            rack: A
            listen: {udp: "127.0.0.1:0", tcp: "127.0.0.1:0"}
            slots:
              A1: {port: %s}
            """
                .formatted(port.path()));
    service = ServedProcess.soon(ReadyFolder.in(folder.resolve("data")), rack);
    asked = new Asked(service.url());
    await()
        .atMost(PATIENCE)
        .ignoreExceptions()
        .until(() -> open().equals(List.of(true, true, true)));
    udp = address("udp");
    InetSocketAddress at = address("tcp");
    tcp = new Socket(at.getAddress(), at.getPort());
    spool = SqliteSpool.open(folder.resolve("agent.db"), SqliteSpool.DEFAULT_LIMIT_BYTES);
    RackFile agentRack = new RackFile("B", List.of(new RackFile.Slot("B1", agentPort.path())));
    HttpDestination to = new HttpDestination(service.url(), () -> null);
    agent = new Agent(agentRack, spool, to, reason -> {});
    agent.start();
    await().atMost(PATIENCE).until(() -> agent.sources().get(0).open());
    port.write("\n");
    agentPort.write("\n");
  }

  private JsonNode ports() {
    return asked.json("/api/ports").get("ports");
  }

  private List<Boolean> open() {
    List<Boolean> open = new java.util.ArrayList<>();
    ports().forEach(each -> open.add(each.path("open").asBoolean()));
    return open;
  }

  private InetSocketAddress address(String kind) {
    for (JsonNode each : ports()) {
      if (each.path("kind").asText().equals(kind)) {
        String at = each.get("port").asText();
        return new InetSocketAddress(
            "127.0.0.1", Integer.parseInt(at.substring(at.lastIndexOf(':') + 1)));
      }
    }
    throw new AssertionError("nothing listens for " + kind + ": " + ports());
  }

  public Asked asked() {
    return asked;
  }

  /**
   * Sends a line, without its end; one thread for each input. What HTTP says of it is not looked
   * at.
   */
  public void send(Input input, String line) throws IOException, InterruptedException {
    byte[] bytes = (line + "\n").getBytes(UTF_8);
    switch (input) {
      case PORT -> port.write(line + "\n");
      case AGENT -> agentPort.write(line + "\n");
      case TCP -> tcp.getOutputStream().write(bytes);
      case UDP -> datagram(line.getBytes(UTF_8));
      case HTTP -> post(bytes);
    }
  }

  private void datagram(byte[] bytes) throws IOException {
    try (DatagramSocket fresh = new DatagramSocket()) {
      fresh.send(new DatagramPacket(bytes, bytes.length, udp));
    }
  }

  private void post(byte[] lines) throws IOException, InterruptedException {
    HttpRequest request =
        HttpRequest.newBuilder(service.url().resolve("api/samples"))
            .header("Content-Type", "application/x-ndjson")
            .POST(HttpRequest.BodyPublishers.ofByteArray(lines))
            .build();
    HttpResponse<String> answer = http.send(request, HttpResponse.BodyHandlers.ofString());
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
  }

  @Override
  public void close() throws IOException {
    agent.close();
    spool.close();
    tcp.close();
    service.close();
    port.close();
    agentPort.close();
  }
}
