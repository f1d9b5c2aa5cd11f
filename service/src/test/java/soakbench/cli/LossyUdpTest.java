package soakbench.cli;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import java.net.InetSocketAddress;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.Statement;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.locks.LockSupport;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import soakbench.bench.ServedProcess;
import soakbench.store.server.ReadyFolder;

/**
 * Twelve trackers that send over a network which loses five of a hundred datagrams, doubles one and
 * lets one in ten be overtaken; the program as users start it, its embedded database.
 */
class LossyUdpTest {
  private static final int SENDERS = 12;
  private static final long EVERY_NS = 10_000_000;

  /** A loss before the first line or after the last one shows in no counter. */
  private static final int SAFE_LINES = 150;

  private static final Duration PATIENCE = Duration.ofSeconds(120);

  @TempDir private Path folder;

  @Test
  void exactlyTheDeliveredLinesAreStoredAndTheOthersCountedAsLost() throws Exception {
    deliveredAreStored(900);
  }

  @Test
  @Tag("bench")
  void andThoseOfTwoThousandOfEach() throws Exception {
    deliveredAreStored(2_000);
  }

  private void deliveredAreStored(int printed) throws Exception {
    long seed = Long.getLong("soakbench.test.seed", System.nanoTime());
    System.out.println("LossyUdpTest: -Dsoakbench.test.seed=" + seed);
    Path data = ReadyFolder.in(folder.resolve("data"));
    Path rack = Files.writeString(folder.resolve("rack.yaml"), "listen: {udp: 127.0.0.1:0}\n");
    try (ServedProcess serve = ServedProcess.soon(data, rack)) {
      Asked asked = new Asked(serve.url());
      await().atMost(PATIENCE).until(() -> udp(asked).path("open").asBoolean());
      String address = udp(asked).get("port").asText();
      int port = Integer.parseInt(address.substring(address.lastIndexOf(':') + 1));
      List<List<Long>> delivered;
      try (LossyNetwork network =
          new LossyNetwork(new InetSocketAddress("127.0.0.1", port), SENDERS, seed)) {
        delivered = sendAll(network, printed);
        long lines = delivered.stream().mapToLong(List::size).sum();
        long lost = (long) SENDERS * printed - lines;
        assertThat(lost)
            .as("the network lost some")
            .isGreaterThan(SENDERS * (printed - 2 * SAFE_LINES) / 25);
        await().atMost(PATIENCE).until(() -> udp(asked).get("readings").asLong() >= lines);
        await().atMost(PATIENCE).until(() -> udp(asked).get("lost").asLong() == lost);
        await().atMost(PATIENCE).until(() -> waiting(asked) == 0);
        assertThat(network.failure()).isNull();
        JsonNode told = udp(asked);
        assertThat(told.get("readings").asLong()).isEqualTo(lines);
        assertThat(told.get("senders")).hasSize(SENDERS);
        assertThat(told.get("trackers")).hasSize(SENDERS);
      }
      storedAre(data, delivered);
    }
  }

  private static JsonNode udp(Asked asked) {
    // Empty until the service has begun to listen.
    return asked.json("/api/ports").get("ports").path(0);
  }

  private static long waiting(Asked asked) {
    return asked.json("/api/ports").get("spool").get("waiting").asLong();
  }

  /** Which lines of each tracker were delivered. */
  private static List<List<Long>> sendAll(LossyNetwork network, int lines) {
    List<List<Long>> delivered = new ArrayList<>();
    for (int i = 0; i < SENDERS; i++) {
      delivered.add(new ArrayList<>());
    }
    long nextNs = System.nanoTime();
    for (long seq = 0; seq < lines; seq++) {
      for (int i = 0; i < SENDERS; i++) {
        boolean lossy = seq >= SAFE_LINES && seq < lines - SAFE_LINES;
        if (network.send(i, line(i, seq), lossy)) {
          delivered.get(i).add(seq);
        }
      }
      nextNs += EVERY_NS;
      LockSupport.parkNanos(nextNs - System.nanoTime());
    }
    return delivered;
  }

  private static byte[] line(int sender, long seq) {
    return String.format(
            Locale.ROOT,
            "{\"id\":\"KITE-%d\",\"seq\":%d,\"t_ms\":%d,\"temp_c\":24.5,\"gyro_dps\":[%d.5,0,1]}",
            sender,
            seq,
            5000 + seq * 10,
            seq)
        .getBytes(UTF_8);
  }

  private static void storedAre(Path data, List<List<Long>> delivered) throws Exception {
    try (Connection database =
            DriverManager.getConnection(
                "jdbc:postgresql://127.0.0.1:"
                    + Files.readString(data.resolve("port"))
                    + "/postgres",
                "postgres",
                Files.readString(data.resolve("password")));
        Statement statement = database.createStatement()) {
      for (int i = 0; i < SENDERS; i++) {
        List<Long> stored = new ArrayList<>();
        try (ResultSet rows =
            statement.executeQuery(
                "SELECT seq, gx_dps FROM sample WHERE tracker = 'KITE-" + i + "' ORDER BY time")) {
          while (rows.next()) {
            stored.add(rows.getLong(1));
            assertThat(rows.getFloat(2)).isEqualTo(rows.getLong(1) + 0.5f);
          }
        }
        assertThat(stored).as("samples of KITE-" + i).isEqualTo(delivered.get(i));
      }
    }
  }
}
