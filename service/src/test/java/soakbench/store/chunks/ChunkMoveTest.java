package soakbench.store.chunks;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.sql.SQLException;
import java.time.Duration;
import java.util.List;
import java.util.Random;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import soakbench.live.SoakStore.Unit;
import soakbench.model.RackSet;
import soakbench.store.Database;
import soakbench.store.Samples;
import soakbench.store.connection.Pools;
import soakbench.store.connection.Schema;
import soakbench.store.connection.WriterLock;

/** The extension comes to a database that holds rows, on a given server with TimescaleDB. */
@Timeout(180)
class ChunkMoveTest {
  private static final int ROWS = 40_000;
  private static final int TRACKERS = 4;

  private ChunkedServer server;

  @BeforeEach
  void fillPlainTables() throws SQLException {
    server = ChunkedServer.orSkip();
    server.makePlainTables();
    String rows =
        "SELECT now() - interval '20 days' + n / %1$d * interval '30 s', n, NULL, 20 + n %% 7, .1,"
            + " .2, .3, 0, 0, 1, false, 'A-' || n %% %1$d FROM generate_series(0, %2$d) n";
    server.execute(
        "INSERT INTO sample " + rows.formatted(TRACKERS, ROWS - 1),
        "INSERT INTO bin (time, first_time, last_time, temperature_mean_c, temperature_count,"
            + " gx_count, gy_count, gz_count, ax_count, ay_count, az_count, boot, tracker) SELECT"
            + " date_trunc('second', time), time, time, temperature_c, 1, 1, 1, 1, 1, 1, 1, 0,"
            + " tracker FROM sample",
        "CREATE TABLE copied AS TABLE sample",
        "CREATE TABLE copied_bin AS TABLE bin",
        "ANALYZE sample",
        "CREATE VIEW warm AS SELECT tracker, time FROM sample WHERE temperature_c > 22",
        "GRANT SELECT ON sample TO pg_monitor");
  }

  @AfterEach
  void drop() throws SQLException {
    if (server != null) {
      server.close();
    }
  }

  private void assertAllAreThereOnce() throws SQLException {
    for (String[] pair : new String[][] {{"sample", "copied"}, {"bin", "copied_bin"}}) {
      String both =
          "SELECT count(*) FROM ((TABLE %1$s EXCEPT ALL TABLE %2$s) UNION ALL"
              + " (TABLE %2$s EXCEPT ALL TABLE %1$s)) x";
      assertThat(server.one(both.formatted(pair[0], pair[1]))).isZero();
      assertThat(
              server.one(
                  "SELECT count(*) FROM timescaledb_information.chunks WHERE hypertable_name = ?",
                  pair[0]))
          .isGreaterThanOrEqualTo(2);
    }
  }

  private static void awaitMoved(Database database) {
    await()
        .atMost(Duration.ofSeconds(90))
        .until(() -> database.health().hypertables() && database.health().moving().isEmpty());
  }

  /** The same change of the table and of its copy, which has no chunks. */
  private void change(Random random) throws SQLException {
    long at = random.nextInt(ROWS);
    String some =
        "tracker = 'A-%d' AND seq BETWEEN %d AND %d".formatted(at % TRACKERS, at, at + 99);
    String sql =
        switch (random.nextInt(4)) {
          case 0 -> "DELETE FROM %s WHERE " + some;
          case 1 -> "UPDATE %s SET temperature_c = -seq %% 50 WHERE " + some;
          case 2 -> "UPDATE %s SET tracker = tracker || '-' || seq %% 2 WHERE " + some;
          default ->
              "INSERT INTO %s (time, seq, temperature_held, tracker) SELECT timestamptz"
                  + " '2026-01-01' + g * interval '1 ms', g, true, 'A-' || g %% 9 FROM"
                  + " generate_series("
                  + (at * 100)
                  + ", "
                  + (at * 100 + 99)
                  + ") g ON CONFLICT DO NOTHING";
        };
    server.execute("BEGIN", sql.formatted("sample"), sql.formatted("copied"), "COMMIT");
  }

  @Test
  void whatIsWrittenReplacedAndTakenOutMeanwhileIsRight() throws SQLException {
    Random random = new Random(Long.getLong("soakbench.test.seed", 7));
    int rounds = 0;
    try (Database database = Database.open(server.settings())) {
      assertThat(database.health().hypertables()).isFalse();
      while (!database.health().hypertables()) {
        change(random);
        try (Unit unit = database.soakStore().begin()) {
          unit.writeSamples(Samples.samples("B-1", rounds * 40, rounds * 40 + 50));
          unit.commit();
        }
        rounds++;
      }
      awaitMoved(database);
    }
    assertThat(rounds).isGreaterThan(5);
    assertThat(server.one("SELECT count(*) FROM sample WHERE tracker = 'B-1'"))
        .isEqualTo(40L * rounds + 10);
    server.execute("DELETE FROM sample WHERE tracker = 'B-1'");
    assertAllAreThereOnce();
  }

  @Test
  void ofTwoServicesOneMovesRowsTheOtherGoesOnWhereItEndsAndBothWrite() throws SQLException {
    String movers =
        "SELECT count(*) FROM pg_locks WHERE locktype = 'advisory' AND granted"
            + " AND classid = x'50ab'::int AND objid = 5 AND database ="
            + " (SELECT oid FROM pg_database WHERE datname = current_database())";
    int[] rounds = {0, 0};
    try (Database ofC = Database.prepared(server.settings(), RackSet.of(List.of("C")))) {
      try (Database ofA = Database.prepared(server.settings(), RackSet.of(List.of("A")))) {
        ofA.openToWrite(step -> {});
        ofC.openToWrite(step -> {});
        // Under way is what has copied rows and still stands there; the first may end meanwhile.
        while (rounds[0] < 5 || server.one("SELECT sum(rows) FROM chunk_move") == 0) {
          write(ofA, "A-9", rounds[0]++);
          write(ofC, "C-9", rounds[1]++);
          assertThat(server.one(movers)).isLessThanOrEqualTo(1);
        }
      }
      while (!ofC.health().hypertables()) {
        write(ofC, "C-9", rounds[1]++);
      }
      awaitMoved(ofC);
      await().until(() -> server.one(movers) == 0);
    }
    assertThat(server.one("SELECT count(*) FROM sample WHERE tracker = 'A-9'"))
        .isEqualTo(50L * rounds[0]);
    assertThat(server.one("SELECT count(*) FROM sample WHERE tracker = 'C-9'"))
        .isEqualTo(50L * rounds[1]);
    server.execute("DELETE FROM sample WHERE tracker IN ('A-9', 'C-9')");
    assertAllAreThereOnce();
  }

  private static void write(Database database, String tracker, int round) {
    try (Unit unit = database.soakStore().begin()) {
      unit.writeSamples(Samples.samples(tracker, round * 50, round * 50 + 50));
      unit.commit();
    }
  }

  @Test
  void aMoveThatIsCutOffAgainAndAgainGoesOnWhereItWas() throws SQLException {
    migrate();
    long furthest = 0;
    for (int cut = 1; cut < 4; cut++) {
      moveSome(3);
      long now = server.one("SELECT rows FROM chunk_move WHERE name = 'sample'");
      assertThat(now).isGreaterThan(furthest);
      furthest = now;
      assertThat(server.one("SELECT count(*) FROM sample")).isEqualTo(ROWS);
    }
    try (Database database = Database.open(server.settings())) {
      await().until(() -> database.health().moving().isPresent());
      server.cutConnections();
      awaitMoved(database);
      boolean community = server.isCommunity();
      await().until(() -> database.health().compression() == community);
    }
    assertAllAreThereOnce();
    assertThat(server.one("SELECT count(*) FROM pg_class WHERE relname LIKE '%_before'")).isZero();
    assertThat(server.one("SELECT count(*) FROM warm"))
        .isEqualTo(server.one("SELECT count(*) FROM copied WHERE temperature_c > 22"));
    assertThat(
            server.one(
                "SELECT count(*) FROM pg_class WHERE relname = 'sample'"
                    + " AND relacl::text LIKE '%pg_monitor=r%'"))
        .isEqualTo(1);
  }

  private void migrate() {
    assertThat(Schema.migrate(server.address().dataSource(0), server.address(), true)).isTrue();
  }

  private void moveSome(int pieces) {
    AtomicInteger left = new AtomicInteger(2 * pieces);
    WriterLock lock = new WriterLock(server.address(), RackSet.ALL);
    try (Pools pools = new Pools()) {
      assertThat(lock.tryTake()).isTrue();
      pools.open(server.address(), lock);
      new ChunkMove("sample", 24).all(pools, () -> left.getAndDecrement() <= 0);
    } finally {
      lock.close();
    }
  }
}
