package soakbench.cli.running;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.MissingNode;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.DatagramPacket;
import java.net.DatagramSocket;
import java.net.InetAddress;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.stream.StreamSupport;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import soakbench.api.ApiSettings;
import soakbench.cli.Asked;
import soakbench.cli.Serving;
import soakbench.ingest.Agent;
import soakbench.ingest.rackfile.RackFileParser;
import soakbench.ingest.sending.HttpDestination;
import soakbench.ingest.spool.SqliteSpool;
import soakbench.store.server.DatabaseSettings;
import soakbench.store.server.KillableServer;
import soakbench.store.server.ReadyFolder;

/** A rack on another computer while the service's database stands still. */
@Timeout(400)
class HeatWhileHangingTest {
  private static final Duration PATIENCE = Duration.ofSeconds(90);

  /** More than one request holds. */
  private static final int WAITING = 6_000;

  private static final int LINES = 20;

  @TempDir private Path folder;
  private volatile double celsius = 25;

  @Test
  void heatIsSeenThoughThousandsOfSamplesWaitBeforeItAndSilenceToo() throws Exception {
    Path data = folder.resolve("database");
    try (KillableServer server = new KillableServer(ReadyFolder.in(data));
        Service service =
            Service.start(
                DatabaseSettings.url(server.url()),
                ApiSettings.local(0),
                null,
                new MonotonicClock());
        SqliteSpool spool =
            SqliteSpool.open(folder.resolve("spool.db"), SqliteSpool.DEFAULT_LIMIT_BYTES);
        DatagramSocket socket = new DatagramSocket()) {
      URI url = service.url();
      await().atMost(PATIENCE).until(() -> Serving.get(url.resolve("health")).statusCode() == 200);
      Path rack = Files.writeString(folder.resolve("rack.yaml"), "listen: {udp: 127.0.0.1:0}\n");
      ScheduledExecutorService tracker = Executors.newSingleThreadScheduledExecutor();
      try (Agent agent =
          new Agent(
              RackFileParser.read(rack),
              spool,
              new HttpDestination(url, () -> null),
              reason -> {})) {
        agent.start();
        int port = port(agent);
        tracker.scheduleAtFixedRate(() -> send(socket, port), 0, 20, TimeUnit.MILLISECONDS);
        await().atMost(PATIENCE).until(() -> shown(url).path("temperature_c").asDouble() == 25);
        signalAll(data, "STOP");
        try {
          pileUp(spool, socket, port);
          celsius = 70;
          long beganNs = System.nanoTime();
          awaitState(url, "hot", Duration.ofSeconds(30));
          Duration took = Duration.ofNanos(System.nanoTime() - beganNs);
          System.out.println("HeatWhileHangingTest: heat seen after " + took);
          assertThat(took).isLessThan(Duration.ofSeconds(12));
          tracker.shutdown();
          awaitState(url, "silent", Duration.ofSeconds(60));
        } finally {
          signalAll(data, "CONT");
        }
        await().atMost(PATIENCE).until(() -> agent.waiting() == 0 && agent.trouble().isEmpty());
        assertThat(agent.totals().refused()).isZero();
      } finally {
        tracker.shutdownNow();
      }
    }
  }

  private static int port(Agent agent) {
    await().atMost(PATIENCE).until(() -> agent.sources().get(0).open());
    String address = agent.sources().get(0).port();
    return Integer.parseInt(address.substring(address.lastIndexOf(':') + 1));
  }

  /** How fast it piled up does not matter, so more is sent than the tracker says by itself. */
  private void pileUp(SqliteSpool spool, DatagramSocket socket, int port) {
    await()
        .atMost(PATIENCE)
        .pollInterval(Duration.ofMillis(2))
        .until(
            () -> {
              send(socket, port);
              return spool.status().waiting() > WAITING;
            });
  }

  private void send(DatagramSocket socket, int port) {
    String line = "{\"id\":\"T-1\",\"temp_c\":%s,\"gyro_dps\":[0.1,0.2,0.3]}\n".formatted(celsius);
    byte[] bytes = line.repeat(LINES).getBytes(UTF_8);
    try {
      socket.send(new DatagramPacket(bytes, bytes.length, InetAddress.getLoopbackAddress(), port));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static void awaitState(URI url, String state, Duration within) {
    await()
        .atMost(within)
        .pollInterval(Duration.ofMillis(200))
        .until(() -> shown(url).path("state").asText().equals(state));
  }

  private static JsonNode shown(URI url) {
    JsonNode all = new Asked(url).json("api/readiness").get("trackers");
    return StreamSupport.stream(all.spliterator(), false)
        .filter(t -> t.get("tracker").asText().equals("T-1"))
        .findFirst()
        .orElse(MissingNode.getInstance());
  }

  private static void signalAll(Path data, String signal) throws Exception {
    for (ProcessHandle process : KillableServer.processesOn(data)) {
      Serving.signal(process, signal);
    }
  }
}
