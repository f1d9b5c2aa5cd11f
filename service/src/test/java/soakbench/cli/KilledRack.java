package soakbench.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Duration;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import java.util.TreeMap;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.LockSupport;
import soakbench.bench.Program;
import soakbench.store.server.KillableServer;
import soakbench.store.server.ReadyFolder;

/**
 * A rack of pseudo-terminals, an agent, a service and a database server, the last three killed with
 * signal 9 at random moments while samples flow. What the agent had committed to its spool is
 * counted against what the database has, sample by sample.
 */
final class KilledRack {
  private static final double LINES_PER_S = 100;
  private static final int AGENT_MIB = 64;
  private static final int SERVICE_MIB = 256;
  private static final int KILLED_WITHIN_MS = 1000;
  private static final int STARTED_WITHIN_MS = 3000;
  private static final Duration PATIENCE = Duration.ofSeconds(120);

  private final Path folder;
  private final Path spool;
  private final int port;
  private KillableServer database;
  private Path rack;
  private volatile Program agent;
  private volatile Program service;

  private KilledRack(Path folder) throws IOException {
    this.folder = folder;
    this.spool = folder.resolve("spool.db");
    try (ServerSocket free = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
      this.port = free.getLocalPort();
    }
  }

  /**
   * Kills each of the three so many times while so many trackers print, then counts; returns what
   * happened, in a line.
   */
  static String killed(Path folder, int trackers, int kills) throws Exception {
    long seed = Long.getLong("soakbench.test.seed", System.nanoTime());
    System.out.println("KilledRack: -Dsoakbench.test.seed=" + seed);
    return new KilledRack(folder).run(trackers, kills, seed);
  }

  private String run(int trackers, int kills, long seed) throws Exception {
    Random random = new Random(seed);
    database = new KillableServer(ReadyFolder.in(folder.resolve("database")));
    try (NumberedLines lines = NumberedLines.start(trackers, LINES_PER_S)) {
      rack = Files.writeString(folder.resolve("rack.yaml"), lines.rack());
      startService();
      startAgent();
      long startNs = System.nanoTime();
      for (int kill = 0; kill < kills; kill++) {
        awaitFlow();
        killAll(random);
      }
      double seconds = (System.nanoTime() - startNs) / 1e9;
      awaitFlow();
      lines.stop();
      await().atMost(PATIENCE).pollInterval(Duration.ofMillis(200)).until(this::isSpoolEmpty);
      String memory =
          String.format(
              Locale.ROOT,
              "%.0f MiB agent, %.0f MiB service",
              agent.residentMib(),
              service.residentMib());
      agent.close();
      long stored = count(lines);
      return String.format(
          Locale.ROOT,
          "%d kills each of agent, service and database in %.0f s: %d lines printed, %d samples"
              + " acknowledged and stored, 0 lost, 0 doubled; %s",
          kills,
          seconds,
          (long) lines.sent() * lines.trackers(),
          stored,
          memory);
    } finally {
      close();
    }
  }

  /** Samples arrive in the database. */
  private void awaitFlow() {
    long before = storedInAll();
    await()
        .atMost(PATIENCE)
        .pollInterval(Duration.ofMillis(50))
        .until(() -> storedInAll() > before);
  }

  private long storedInAll() {
    try (Connection connection = database.connect();
        ResultSet rows = connection.createStatement().executeQuery("SELECT count(*) FROM sample")) {
      rows.next();
      return rows.getLong(1);
    } catch (SQLException e) {
      throw new AssertionError(e);
    }
  }

  /** Each of the three at a moment of its own, and started again at once. */
  private void killAll(Random random) throws Exception {
    CompletableFuture<Void> databaseBack =
        after(
            random,
            () -> {
              database.kill();
              database.restart();
            });
    CompletableFuture<Void> serviceBack =
        after(
            random,
            () -> {
              killService();
              // It ends where there is no database; whoever looks after it would try again.
              databaseBack.get();
              killStart(random.nextInt(STARTED_WITHIN_MS));
              startService();
            });
    CompletableFuture<Void> agentBack =
        after(
            random,
            () -> {
              killAgent();
              startAgent();
            });
    CompletableFuture.allOf(databaseBack, serviceBack, agentBack)
        .get(PATIENCE.toSeconds(), TimeUnit.SECONDS);
  }

  private interface Step {
    void take() throws Exception;
  }

  private static CompletableFuture<Void> after(Random random, Step step) {
    long waitNs = TimeUnit.MILLISECONDS.toNanos(random.nextInt(KILLED_WITHIN_MS));
    CompletableFuture<Void> done = new CompletableFuture<>();
    Thread thread =
        new Thread(
            () -> {
              try {
                LockSupport.parkNanos(waitNs);
                step.take();
                done.complete(null);
              } catch (Exception | AssertionError e) {
                done.completeExceptionally(e);
              }
            },
            "killer");
    thread.setDaemon(true);
    thread.start();
    return done;
  }

  /** So little memory that it ends at once when it wants more. */
  private static List<String> virtualMachine(int heapMib) {
    return List.of(
        "-Xmx" + heapMib + "m",
        "-XX:+ExitOnOutOfMemoryError",
        "-XX:+UseSerialGC",
        "-XX:TieredStopAtLevel=1");
  }

  /** It must start, whatever state it was left in. */
  private void startAgent() throws IOException {
    agent =
        Program.start(
            virtualMachine(AGENT_MIB),
            "reading ",
            List.of(
                "agent",
                "--to",
                "http://127.0.0.1:" + port,
                "--rack",
                rack.toString(),
                "--spool",
                spool.toString()));
  }

  private void killAgent() throws InterruptedException {
    assertThat(agent.isAlive()).as("the agent lives until it is killed").isTrue();
    agent.kill();
  }

  /** It must start, whatever state it was left in. */
  private void startService() throws IOException {
    service =
        Program.start(
            virtualMachine(SERVICE_MIB),
            "board at ",
            List.of("serve", "--db", database.url(), "--port", String.valueOf(port)));
  }

  /** Signal 9 at any moment of a start, too. */
  private void killStart(int afterMs) throws IOException, InterruptedException {
    Path said = folder.resolve("killed-start.txt");
    Serving starting = Serving.start(said, "--db", database.url(), "--port", String.valueOf(port));
    TimeUnit.MILLISECONDS.sleep(afterMs);
    assertThat(starting.process.isAlive()).as(starting.text()).isTrue();
    starting.process.destroyForcibly().waitFor();
  }

  private void killService() throws InterruptedException {
    assertThat(service.isAlive()).as("the service lives until it is killed").isTrue();
    service.kill();
  }

  private boolean isSpoolEmpty() {
    try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + spool);
        ResultSet rows = connection.createStatement().executeQuery("SELECT count(*) FROM sample")) {
      return rows.next() && rows.getLong(1) == 0;
    } catch (SQLException e) {
      throw new AssertionError(e);
    }
  }

  /** Holds what was acknowledged against what is stored, and returns how many samples that is. */
  private long count(NumberedLines lines) throws SQLException {
    Map<String, Long> acknowledged = new TreeMap<>();
    try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + spool);
        ResultSet rows =
            connection.createStatement().executeQuery("SELECT tracker, samples FROM tracker")) {
      while (rows.next()) {
        acknowledged.put(rows.getString(1), rows.getLong(2));
      }
    }
    Map<String, Long> stored = new TreeMap<>();
    try (Connection connection = database.connect()) {
      for (int i = 0; i < lines.trackers(); i++) {
        stored.put(NumberedLines.id(i), stored(connection, i, lines.sent()));
      }
    }
    assertThat(stored).as("stored samples, tracker by tracker").isEqualTo(acknowledged);
    long total = stored.values().stream().mapToLong(Long::longValue).sum();
    assertThat(total)
        .as("samples that came through although all was killed all the time")
        .isGreaterThan((long) lines.sent() * lines.trackers() / 10);
    return total;
  }

  /** How many samples of one tracker there are; each is a line that it printed, and none twice. */
  private static long stored(Connection connection, int tracker, int sent) throws SQLException {
    Set<Long> seqs = new HashSet<>();
    String sql =
        "SELECT seq, temperature_c, gx_dps FROM sample WHERE tracker = '"
            + NumberedLines.id(tracker)
            + "' ORDER BY time";
    long before = -1;
    try (ResultSet rows = connection.createStatement().executeQuery(sql)) {
      while (rows.next()) {
        long seq = rows.getLong(1);
        assertThat(seqs.add(seq)).as("seq " + seq + " for the first time").isTrue();
        assertThat(seq).as("in the order of their times").isGreaterThan(before).isLessThan(sent);
        assertThat(rows.getFloat(2)).isEqualTo(NumberedLines.temperatureC(tracker, seq));
        assertThat(rows.getFloat(3)).isEqualTo(NumberedLines.rateDps(tracker, seq));
        before = seq;
      }
    }
    return seqs.size();
  }

  private void close() throws IOException {
    if (agent != null) {
      agent.close();
    }
    if (service != null) {
      service.close();
    }
    database.close();
  }
}
