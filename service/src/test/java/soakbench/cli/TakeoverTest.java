package soakbench.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import java.util.concurrent.locks.LockSupport;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import soakbench.bench.Program;
import soakbench.ingest.Agent;
import soakbench.ingest.rackfile.RackFileParser;
import soakbench.ingest.sending.DeliveryTotals;
import soakbench.ingest.sending.HttpDestination;
import soakbench.ingest.sending.SeveralServices;
import soakbench.ingest.sending.SeveralServices.Named;
import soakbench.ingest.spool.SqliteSpool;
import soakbench.store.SharedServer;
import soakbench.store.server.DatabaseSettings;

/**
 * Two services of one set of racks, one of them standing by, and an agent that knows both: the one
 * that writes is killed with signal 9 while lines come. The long run: {@code mvn -B test -Pbench
 * -Dtest=TakeoverTest}.
 */
@Timeout(3600)
class TakeoverTest {
  private static final double RATE_HZ = 10;
  private static final double SPEED = 10;
  private static final List<String> TRACKERS = List.of("KITE-1", "KITE-2", "KITE-3");
  private static final Duration PATIENCE = Duration.ofSeconds(120);
  private static final Duration TAKES_OVER_WITHIN = Duration.ofSeconds(30);

  @TempDir private Path folder;
  private final DatabaseSettings database = SharedServer.empty();
  private final Program[] services = new Program[2];
  private final List<LinePort> ports = new ArrayList<>();

  @Test
  void whoStandsByTakesOverFromAKilledWriterAndNothingIsLostNorJudgedTwice() throws Exception {
    System.out.println(killed(1, 1800));
  }

  @Test
  @Tag("bench")
  void norAfterFiftyDeaths() throws Exception {
    System.out.println(killed(50, 36_000));
  }

  private String killed(int kills, double soakS) throws Exception {
    long seed = Long.getLong("soakbench.test.seed", System.nanoTime());
    System.out.println("TakeoverTest: -Dsoakbench.test.seed=" + seed);
    Random random = new Random(seed);
    int[] port = {freePort(), freePort()};
    List<Duration> gaps = new ArrayList<>();
    start(0, port[0], "--racks", "-");
    try (SqliteSpool spool = SqliteSpool.open(folder.resolve("spool.db"), 1 << 28);
        Agent agent = new Agent(RackFileParser.read(rack()), spool, both(port), reason -> {});
        Feeder feeder = Feeder.start(ports, lines(soakS), RATE_HZ * SPEED)) {
      agent.start();
      int writer = 0;
      for (int kill = 0; kill < kills; kill++) {
        start(1 - writer, port[1 - writer], "--racks", "-", "--standby");
        awaitStored(stored() + 100);
        LockSupport.parkNanos(random.nextInt(2_000) * 1_000_000L);
        services[writer].kill();
        gaps.add(takenOver());
        writer = 1 - writer;
      }
      feeder.close();
      await().atMost(PATIENCE).until(() -> spool.status().waiting() == 0);
      agent.close();
      DeliveryTotals sent = agent.totals();
      assertThat(stored()).isEqualTo(sent.accepted() + sent.duplicate());
      assertThat(sent.conflicting() + sent.refused()).isZero();
      Asked asked = new Asked(url(port[writer]));
      for (String tracker : TRACKERS) {
        Seen now = Seen.recordingAgreesWithReplay(asked, tracker, folder);
        assertThat(now.samples()).doesNotHaveDuplicates();
        assertThat(now.timeline()).doesNotHaveDuplicates().hasSizeGreaterThan(1);
      }
    }
    assertThat(gaps).allMatch(gap -> gap.compareTo(TAKES_OVER_WITHIN) < 0);
    Collections.sort(gaps);
    return String.format(
        Locale.ROOT,
        "%d writers killed: samples are stored again after %.1f s (median; %.1f at most); %d"
            + " samples acknowledged and stored, 0 lost, 0 doubled",
        kills,
        gaps.get(gaps.size() / 2).toMillis() / 1e3,
        gaps.get(gaps.size() - 1).toMillis() / 1e3,
        stored());
  }

  /** How long after a death the first sample is stored again. */
  private Duration takenOver() {
    long killedNs = System.nanoTime();
    awaitStored(stored() + 1);
    return Duration.ofNanos(System.nanoTime() - killedNs);
  }

  private void awaitStored(long count) {
    await().atMost(PATIENCE).pollInterval(Duration.ofMillis(100)).until(() -> stored() >= count);
  }

  private long stored() {
    try (Connection connection = SharedServer.connect(database);
        ResultSet rows = connection.createStatement().executeQuery("SELECT count(*) FROM sample")) {
      rows.next();
      return rows.getLong(1);
    } catch (SQLException e) {
      throw new AssertionError(e);
    }
  }

  private SeveralServices both(int[] port) {
    List<Named> named = new ArrayList<>();
    for (int each : port) {
      URI url = url(each);
      named.add(new Named(url.toString(), new HttpDestination(url, () -> null)));
    }
    return new SeveralServices(named);
  }

  private Path rack() throws IOException {
    StringBuilder rack = new StringBuilder("rack: test\ntimes: simulated\nslots:\n");
    for (int i = 0; i < TRACKERS.size(); i++) {
      ports.add(new LinePort());
      rack.append("  P").append(i).append(": {port: ").append(ports.get(i).path()).append("}\n");
    }
    return Files.writeString(folder.resolve("rack.yaml"), rack.toString());
  }

  private static List<List<byte[]>> lines(double soakS) throws IOException {
    List<List<byte[]>> lines = new ArrayList<>();
    for (String tracker : TRACKERS) {
      lines.add(SimulatedLines.of(tracker, 100 + lines.size(), soakS, RATE_HZ));
    }
    return lines;
  }

  private void start(int which, int port, String... more) throws IOException {
    List<String> serve =
        new ArrayList<>(List.of("serve", "--db", SharedServer.url(database), "--port", "" + port));
    serve.addAll(List.of(more));
    services[which] = Program.start(Program.soon(), "board at ", serve);
  }

  private static URI url(int port) {
    return URI.create("http://127.0.0.1:" + port + "/");
  }

  private static int freePort() throws IOException {
    try (ServerSocket free = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
      return free.getLocalPort();
    }
  }

  @AfterEach
  void stop() throws IOException {
    for (Program service : services) {
      if (service != null) {
        service.close();
      }
    }
    for (LinePort port : ports) {
      port.close();
    }
  }
}
