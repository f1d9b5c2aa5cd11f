package soakbench.cli.running;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import java.net.URI;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.concurrent.atomic.AtomicBoolean;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import soakbench.api.ApiSettings;
import soakbench.cli.Serving;
import soakbench.demo.PseudoTerminal;
import soakbench.ingest.rackfile.RackFile;
import soakbench.ingest.source.SourceStatus;
import soakbench.ingest.spool.SqliteSpool;
import soakbench.live.StoreException;
import soakbench.model.Tracker;
import soakbench.store.SharedServer;
import soakbench.store.server.DatabaseSettings;

/** Services on one database: one of them writes. */
@Timeout(300)
class TwoServicesTest {
  private static final Duration PATIENCE = Duration.ofSeconds(90);

  private static final String SESSIONS =
      "SELECT sessions FROM pg_stat_database WHERE datname = current_database()";

  @TempDir private Path folder;
  private final DatabaseSettings database = SharedServer.empty();

  private Service opened(Role role) {
    // With its password in the address, as it is given to the program.
    DatabaseSettings settings = DatabaseSettings.url(SharedServer.url(database));
    return Service.opened(settings, ApiSettings.local(0), null, new MonotonicClock(), null, role);
  }

  private Service started(Role role) {
    Service service = opened(role);
    service.begin(step -> {}, () -> {});
    return service;
  }

  @Test
  void aSecondWriterSaysWhoWritesAndEnds() {
    try (Service first = started(Role.WRITES);
        Service second = opened(Role.WRITES)) {
      assertThatThrownBy(() -> second.begin(step -> {}, () -> {}))
          .isInstanceOf(StoreException.class)
          .hasMessageContainingAll(
              "another Soakbench writes to",
              "process " + ProcessHandle.current().pid() + " on ",
              "since 20",
              "--read-only or --standby")
          .hasMessageNotContaining("password=p");
      assertThat(first.database().writer()).isPresent();
    }
  }

  @Test
  void aReaderShowsWhatTheWriterStoresAndChangesNothing() throws Exception {
    try (Service writer = started(Role.WRITES);
        Service reader = started(Role.READS)) {
      assertThat(post(writer.url(), 0).statusCode()).isEqualTo(200);
      await().atMost(PATIENCE).until(() -> trackers(reader.url()).size() == 1);
      post(writer.url(), 100);
      await()
          .atMost(PATIENCE)
          .until(
              () -> asOf(reader.url()).equals(asOf(writer.url())) && !asOf(reader.url()).isEmpty());
      JsonNode health = Serving.json(Serving.get(reader.url().resolve("health")));
      assertThat(health.get("mode").asText()).isEqualTo("reads");
      assertThat(health.get("writer").asText())
          .contains("process " + ProcessHandle.current().pid());
      HttpResponse<String> refused = post(reader.url(), 200);
      assertThat(refused.statusCode()).isEqualTo(409);
      assertThat(refused.body()).contains("only reads what another one writes");
      assertThatThrownBy(() -> reader.watch().tick()).hasMessageContaining("only reads");
      writer.close();
      await()
          .atMost(PATIENCE)
          .until(
              () ->
                  Serving.get(reader.url().resolve("health")).body().contains("No service writes"));
    }
  }

  @Test
  void aReaderShowsWithinASecondWhatTheWriterStoresAndPeopleTell() throws Exception {
    try (Service writer = started(Role.WRITES);
        Service reader = started(Role.READS)) {
      List<Duration> delays = new ArrayList<>();
      for (int from = 0; from <= 100; from += 10) {
        post(writer.url(), from);
        String asOf = asOf(writer.url());
        long storedNs = System.nanoTime();
        await()
            .atMost(PATIENCE)
            .pollInterval(Duration.ofMillis(5))
            .until(() -> asOf(reader.url()).compareTo(asOf) >= 0);
        delays.add(Duration.ofNanos(System.nanoTime() - storedNs));
      }
      Collections.sort(delays);
      System.out.println("a reader shows what is stored after " + delays);
      assertThat(delays.get(delays.size() / 2)).isLessThan(Duration.ofSeconds(1));
      Tracker t = Tracker.unknown("W-1");
      writer
          .database()
          .roster()
          .put(
              new Tracker(
                  t.id(),
                  t.name(),
                  t.lot(),
                  t.imu(),
                  t.board(),
                  "A",
                  t.slot(),
                  t.power(),
                  t.rates(),
                  t.temperatureOffsetC(),
                  t.note()));
      await()
          .atMost(Duration.ofSeconds(3))
          .until(() -> trackers(reader.url(), "?rack=A").size() == 1);
    }
  }

  @Test
  void oneThatStandsByTakesOverWhenTheWriterIsGone() throws Exception {
    Service writer = started(Role.WRITES);
    try (Service next = started(Role.STANDS_BY)) {
      assertThat(post(writer.url(), 0).statusCode()).isEqualTo(200);
      assertThat(post(next.url(), 100).statusCode()).isEqualTo(409);
      writer.close();
      await().atMost(PATIENCE).until(() -> post(next.url(), 100).statusCode() == 200);
      await()
          .atMost(PATIENCE)
          .until(() -> Serving.get(next.url().resolve("health")).body().contains("\"writes\""));
    } finally {
      writer.close();
    }
  }

  @Test
  void aWriterWhoseLockIsLostWritesNothingUntilItHasItAgain() throws Exception {
    try (Service writer = started(Role.WRITES);
        Connection connection = SharedServer.connect(database);
        Statement statement = connection.createStatement()) {
      assertThat(post(writer.url(), 0).statusCode()).isEqualTo(200);
      ResultSet ended =
          statement.executeQuery(
              "SELECT pg_terminate_backend(pid), pg_advisory_lock(x'50ab'::int, 1)"
                  + " FROM pg_stat_activity WHERE application_name LIKE 'soakbench-writer %'"
                  + " AND datname = current_database()");
      ended.next();
      // Another holds it now; the writer may not have noticed yet that its own connection is gone.
      HttpResponse<String> answer = post(writer.url(), 100);
      assertThat(answer.statusCode()).as(answer.body()).isEqualTo(503);
      await()
          .atMost(PATIENCE)
          .until(() -> Serving.get(writer.url().resolve("health")).statusCode() == 503);
      statement.execute("SELECT pg_advisory_unlock_all()");
      await().atMost(PATIENCE).until(() -> post(writer.url(), 100).statusCode() == 200);
    }
  }

  @Test
  void aWriterWhoseLockIsLostForAMomentIsNotTakenOver() throws Exception {
    try (Service writer = started(Role.WRITES);
        Service next = started(Role.STANDS_BY);
        Connection connection = SharedServer.connect(database)) {
      for (int time = 0; time < 8; time++) {
        long before = lockHolder(connection);
        assertThat(before).isPositive();
        number(connection, "SELECT pg_terminate_backend(%d)::int".formatted(before));
        await()
            .atMost(PATIENCE)
            .until(() -> lockHolder(connection) != before && lockHolder(connection) != 0);
        // Else it is free most of the time, and who stands by may never see it otherwise.
        await().atMost(PATIENCE).until(() -> !next.database().isFree());
      }
      assertThat(next.database().mayWrite()).isFalse();
      await().atMost(PATIENCE).until(() -> post(writer.url(), 0).statusCode() == 200);
      assertThat(post(next.url(), 100).statusCode()).isEqualTo(409);
    }
  }

  @Test
  void aWriterInWhosePlaceAnotherWritesLeavesItsPortsUntilItWritesAgain() throws Exception {
    try (PseudoTerminal device = new PseudoTerminal();
        Service writer = opened(Role.WRITES);
        Connection connection = SharedServer.connect(database);
        Statement statement = connection.createStatement()) {
      writer.begin(step -> {}, () -> readRack(writer, device));
      assertThat(writer.sources()).singleElement().matches(SourceStatus::open);
      statement.execute(
          "SELECT pg_terminate_backend(%d), pg_advisory_lock(x'50ab'::int, 1)"
              .formatted(lockHolder(connection)));
      await().atMost(PATIENCE).until(() -> writer.sources().isEmpty());
      HttpResponse<String> health = Serving.get(writer.url().resolve("health"));
      assertThat(health.statusCode()).isEqualTo(503);
      assertThat(health.body())
          .contains("another service holds the right to write: a process on 127.0.0.1");
      await()
          .atMost(PATIENCE)
          .until(
              () ->
                  Serving.get(writer.url().resolve("api/alarms"))
                      .body()
                      .contains("The rack is not read: another service holds the right to write"));
      statement.execute("SELECT pg_advisory_unlock_all()");
      await()
          .atMost(PATIENCE)
          .until(() -> writer.sources().size() == 1 && writer.sources().get(0).open());
      await()
          .atMost(PATIENCE)
          .until(() -> Serving.get(writer.url().resolve("health")).statusCode() == 200);
    }
  }

  @Test
  void aRackThatWhoTookOverCantOpenIsToldAndTriedAgain() throws Exception {
    AtomicBoolean spoolIsTaken = new AtomicBoolean(true);
    Service writer = started(Role.WRITES);
    try (PseudoTerminal device = new PseudoTerminal();
        Service next = opened(Role.STANDS_BY)) {
      next.begin(
          step -> {},
          () -> {
            if (spoolIsTaken.get()) {
              throw new IllegalStateException("another copy has the spool");
            }
            readRack(next, device);
          });
      writer.close();
      URI health = next.url().resolve("health");
      await()
          .atMost(PATIENCE)
          .until(
              () ->
                  Serving.get(health)
                      .body()
                      .contains(
                          "The rack is not read: it can't be opened: another copy has the spool."));
      await()
          .atMost(PATIENCE)
          .until(
              () ->
                  Serving.get(next.url().resolve("api/alarms")).body().contains("reading_stopped"));
      spoolIsTaken.set(false);
      await()
          .atMost(PATIENCE)
          .until(() -> next.sources().size() == 1 && next.sources().get(0).open());
      await()
          .atMost(PATIENCE)
          .until(() -> Serving.json(Serving.get(health)).path("status").asText().equals("ok"));
    } finally {
      writer.close();
    }
  }

  @Test
  void askingAReaderOpensNoConnectionOfItsOwn() throws Exception {
    try (Service writer = started(Role.WRITES);
        Service reader = started(Role.READS);
        Connection connection = SharedServer.connect(database)) {
      URI health = reader.url().resolve("health");
      assertThat(Serving.json(Serving.get(health)).path("writer").asText()).contains("process");
      long before = number(connection, SESSIONS);
      for (int i = 0; i < 100; i++) {
        assertThat(Serving.get(health).statusCode()).isEqualTo(200);
        assertThat(post(reader.url(), 0).body()).contains("send it to that one: process");
      }
      assertThat(number(connection, SESSIONS) - before).isLessThan(50);
      assertThat(writer.database().mayWrite()).isTrue();
    }
  }

  private static long lockHolder(Connection connection) throws SQLException {
    return number(
        connection,
        "SELECT coalesce(max(pid), 0) FROM pg_locks WHERE locktype = 'advisory'"
            + " AND classid = x'50ab'::int AND objid = 1 AND granted"
            + " AND database = (SELECT oid FROM pg_database WHERE datname = current_database())");
  }

  private static long number(Connection connection, String sql) throws SQLException {
    try (Statement statement = connection.createStatement();
        ResultSet rows = statement.executeQuery(sql)) {
      rows.next();
      return rows.getLong(1);
    }
  }

  private void readRack(Service service, PseudoTerminal device) {
    RackFile rack = new RackFile("A", List.of(new RackFile.Slot("A1", device.path())));
    service.read(rack, SqliteSpool.open(folder.resolve("spool.db"), 1 << 24));
  }

  private static HttpResponse<String> post(URI url, int from) throws Exception {
    StringBuilder lines = new StringBuilder();
    Instant start = Instant.now().minusSeconds(60);
    for (int i = from; i < from + 100; i++) {
      lines.append(
          "{\"id\":\"W-1\",\"time\":\"%s\",\"seq\":%d,\"temp_c\":25.5,\"gyro_dps\":[0.3,-0.1,0.1]}\n"
              .formatted(start.plusMillis(i * 500L), i));
    }
    return Serving.send(
        HttpRequest.newBuilder(url.resolve("api/samples"))
            .header("Content-Type", "application/x-ndjson")
            .POST(HttpRequest.BodyPublishers.ofString(lines.toString()))
            .build());
  }

  private static JsonNode trackers(URI url) throws Exception {
    return trackers(url, "");
  }

  private static JsonNode trackers(URI url, String query) throws Exception {
    return Serving.json(Serving.get(url.resolve("api/readiness" + query))).get("trackers");
  }

  private static String asOf(URI url) throws Exception {
    return trackers(url).path(0).path("as_of").asText();
  }
}
