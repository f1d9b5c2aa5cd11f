package soakbench.store.retention;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static soakbench.store.retention.KeptStore.DAY_US;
import static soakbench.store.retention.KeptStore.at;

import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import soakbench.live.StoreException;
import soakbench.store.connection.Query;
import soakbench.store.server.GivenServer;

/** The same on TimescaleDB, whose chunks are dropped as a whole where all of one may go. */
@Timeout(120)
class GivenRetentionTest {
  private static GivenServer server;
  private static KeptStore store;

  @BeforeAll
  static void open() throws SQLException {
    server = GivenServer.orSkip();
    store = new KeptStore(server.settings());
    boolean hypertables = store.database.health().hypertables();
    if (!hypertables) {
      System.err.println("skipped: dropping chunks (the given server has no TimescaleDB)");
    }
    Assumptions.assumeTrue(hypertables, "no TimescaleDB");
  }

  @AfterAll
  static void close() throws SQLException {
    if (store != null) {
      store.close();
    }
    if (server != null) {
      server.close();
    }
  }

  private static long chunks(long fromUs, long toUs) throws SQLException {
    try (Connection c = store.connect()) {
      return Query.list(
              c,
              rows -> rows.getLong(1),
              "SELECT count(*) FROM timescaledb_information.chunks WHERE hypertable_name = 'sample'"
                  + " AND range_end > ? AND range_start < ?",
              at(fromUs).atOffset(java.time.ZoneOffset.UTC),
              at(toUs).atOffset(java.time.ZoneOffset.UTC))
          .get(0);
    }
  }

  @Test
  void aChunkThatNoSoakKeepsSamplesInIsDroppedAndAnotherIsEmptiedOfWhatMayGo() throws Exception {
    for (String tracker : List.of("C-1", "C-2")) {
      store.soak(tracker, 0);
      store.soak(tracker, DAY_US);
    }
    store.storedWhenMeasured();
    store.execute(
        "UPDATE soak SET stored = now() + interval '9 years' WHERE id = ?",
        store.newest("C-2").id());
    List<String> before = store.derived("C-1");
    assertThat(chunks(0, 60)).isEqualTo(1);
    assertThat(store.pass(30, at(35 * DAY_US))).isEqualTo(3);
    assertThat(chunks(0, 60)).isZero();
    assertThat(chunks(DAY_US, DAY_US + 60)).isEqualTo(1);
    assertThat(store.kept("C-1")).containsExactly(0L, 0L);
    assertThat(store.kept("C-2")).containsExactly(0L, 60L);
    assertThat(store.database.retention().waiting()).isZero();
    assertThat(store.derived("C-1")).isEqualTo(before);
    assertThat(store.database.retention().preview(30, at(35 * DAY_US)).going())
        .isEqualTo(Preview.Soaks.NONE);
  }

  @Test
  void whatIsJustTooOldWaitsUntilItsChunkGoesAsAWhole() throws Exception {
    long day = 100 * DAY_US;
    store.soak("C-3", day);
    store.storedWhenMeasured();
    assertThat(store.pass(30, at(day + 30 * DAY_US + 3_600_000_000L - 1))).isEqualTo(1);
    assertThat(store.kept("C-3")).as("its chunk has an hour left").containsExactly(60L);
    assertThat(store.database.retention().waiting()).isEqualTo(1);
    store.pass(30, at(day + 31 * DAY_US + 3_700_000_000L));
    assertThat(store.kept("C-3")).containsExactly(0L);
    assertThat(store.database.retention().waiting()).isZero();
    assertThat(chunks(day, day + 60)).isZero();
  }

  @Test
  void aChunkIntoWhichAnotherServiceIsWritingStays() throws Exception {
    long day = 300 * DAY_US;
    store.soak("C-5", day);
    store.storedWhenMeasured();
    try (Connection other = store.connect()) {
      other.setAutoCommit(false);
      Query.change(
          other,
          "INSERT INTO sample (time, temperature_c, temperature_held, tracker)"
              + " SELECT time, temperature_c, temperature_held, 'D-5' FROM sample"
              + " WHERE tracker = 'C-5'");
      Query.change(
          other,
          "INSERT INTO soak (id, tracker, start_time, end_time, samples, samples_kept) SELECT"
              + " 'D-5@1', 'D-5', start_time, end_time, samples, true FROM soak WHERE tracker ="
              + " 'C-5'");
      assertThatThrownBy(() -> store.pass(30, at(day + 32 * DAY_US)))
          .isInstanceOf(StoreException.class);
      other.commit();
    }
    store.pass(30, at(day + 32 * DAY_US));
    assertThat(chunks(day, day + 60)).isEqualTo(1);
    assertThat(store.kept("D-5")).containsExactly(60L);
    store.execute("DELETE FROM soak WHERE tracker = 'D-5'");
    store.pass(30, at(day + 32 * DAY_US));
    assertThat(chunks(day, day + 60)).isZero();
  }

  @Test
  void aReaderOfAChunkIsNotCutOffAndHoldsNobodyUpForLong() throws Exception {
    long day = 200 * DAY_US;
    store.soak("C-4", day);
    store.storedWhenMeasured();
    try (Connection reader = store.connect();
        Statement statement = reader.createStatement()) {
      reader.setAutoCommit(false);
      statement.setFetchSize(10);
      ResultSet rows = statement.executeQuery("SELECT * FROM sample WHERE tracker = 'C-4'");
      assertThat(rows.next()).isTrue();
      long startNs = System.nanoTime();
      assertThatThrownBy(() -> store.pass(30, at(day + 32 * DAY_US)))
          .isInstanceOf(StoreException.class);
      assertThat(System.nanoTime() - startNs).isLessThan(5_000_000_000L);
      int read = 1;
      while (rows.next()) {
        read++;
      }
      assertThat(read).isEqualTo(60);
    }
    store.pass(30, at(day + 32 * DAY_US));
    assertThat(store.kept("C-4")).containsExactly(0L);
  }
}
