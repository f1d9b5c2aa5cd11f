package soakbench.store.connection;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.flywaydb.core.api.MigrationVersion;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import soakbench.model.RackSet;
import soakbench.store.Database;
import soakbench.store.SharedServer;
import soakbench.store.server.DatabaseSettings;
import soakbench.store.server.ServerAddress;

/** Tables of an early release that are brought up to date by a program that is cut off. */
@Timeout(120)
class InterruptedMigrationTest {
  private static final Duration PATIENCE = Duration.ofSeconds(60);
  private static final int SOAKS = 200;

  /** Who waits for a table is amid a migration: of the tables only that work takes such a lock. */
  private static final String CUT_OFF =
      "SELECT count(pg_terminate_backend(pid)) FROM pg_stat_activity WHERE datname ="
          + " current_database() AND wait_event_type = 'Lock' AND wait_event = 'relation'";

  private final DatabaseSettings bare = SharedServer.bare();
  private Connection connection;
  private Connection holding;

  @BeforeEach
  void makeOldTables() throws SQLException {
    ServerAddress address = ServerAddress.of(bare);
    Schema.migrateTo(MigrationVersion.fromVersion("7"), address.dataSource(0), address);
    connection = SharedServer.connect(bare);
    execute(
        "INSERT INTO tracker VALUES ('A-1', 'Alder', '', '', '', 'A', '', 'usb', 'corrected', 0,"
            + " '')",
        ("INSERT INTO soak SELECT 'A-1@' || n, 'A-1', '2026-03-01T08:00:00Z'::timestamptz + n *"
                + " interval '1 hour', '2026-03-01T08:30:00Z'::timestamptz + n * interval '1 hour',"
                + " 18000, 'silence' FROM generate_series(1, %d) n")
            .formatted(SOAKS),
        "INSERT INTO soak_terms SELECT id, '{}', NULL, NULL, NULL FROM soak");
    holding = SharedServer.connect(bare);
    holding.setAutoCommit(false);
    // One migration changes another table first, and waits for this one then.
    Query.change(holding, "LOCK TABLE soak IN SHARE MODE");
  }

  @AfterEach
  void close() throws SQLException {
    connection.close();
    holding.close();
  }

  private void execute(String... all) throws SQLException {
    try (Statement statement = connection.createStatement()) {
      for (String sql : all) {
        statement.execute(sql);
      }
    }
  }

  private String one(String sql) throws SQLException {
    return Query.first(connection, rows -> rows.getString(1), sql).orElseThrow();
  }

  /** Holds a table so that a migration stops half way, with what it did before, and cuts it off. */
  private void cutOff(List<CompletableFuture<Database>> opening) throws Exception {
    await().atMost(PATIENCE).until(() -> Integer.parseInt(one(CUT_OFF)) > 0);
    assertThat(opening).noneMatch(CompletableFuture::isDone);
    assertThat(one("SELECT max(version::int) FROM flyway_schema_history")).isEqualTo("12");
    assertThat(
            one(
                "SELECT count(*) FROM information_schema.columns WHERE column_name ="
                    + " 'to_second' AND table_name = 'stale'"))
        .as("taken back")
        .isEqualTo("0");
    holding.rollback();
  }

  private CompletableFuture<Database> opening(String rack) {
    Database database = Database.prepared(bare, RackSet.of(List.of(rack)));
    return CompletableFuture.supplyAsync(
        () -> {
          database.openToWrite(step -> {});
          return database;
        });
  }

  private void assertAllIsThere() throws SQLException {
    assertThat(Schema.version(connection)).contains(KnownMigrations.newest().toString());
    assertThat(one("SELECT count(*) - count(DISTINCT version) FROM flyway_schema_history"))
        .isEqualTo("0");
    assertThat(one("SELECT count(*) FROM soak WHERE samples_kept")).isEqualTo("" + SOAKS);
    assertThat(one("SELECT count(*) FROM soak_terms WHERE rates->0->>'rates' = 'unknown'"))
        .isEqualTo("" + SOAKS);
    assertThat(one("SELECT rates FROM tracker")).isEqualTo("unknown");
  }

  @Test
  void aMigrationThatIsCutOffHalfWayIsTakenBackAndDoneAgainByTheSameProgram() throws Exception {
    CompletableFuture<Database> opening = opening("A");
    cutOff(List.of(opening));
    opening.get(60, TimeUnit.SECONDS).close();
    assertAllIsThere();
  }

  @Test
  void ofTwoProgramsThatMigrateAtOnceOneIsCutOffAndBothWriteInTheEnd() throws Exception {
    List<CompletableFuture<Database>> both = Stream.of("A", "C").map(this::opening).toList();
    cutOff(both);
    for (CompletableFuture<Database> one : both) {
      try (Database database = one.get(60, TimeUnit.SECONDS)) {
        assertThat(database.roster().all()).hasSize(1);
      }
    }
    assertAllIsThere();
  }
}
