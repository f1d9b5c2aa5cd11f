package soakbench.store.connection;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.util.List;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import soakbench.live.SoakStore.Unit;
import soakbench.live.StoreException;
import soakbench.model.RackSet;
import soakbench.store.Database;
import soakbench.store.Samples;
import soakbench.store.SharedServer;
import soakbench.store.server.DatabaseSettings;
import soakbench.store.server.ServerAddress;

/** No work of a writer that lost its right comes after the first of the next one. */
@Timeout(180)
class WriterLockTest {
  private static final String SHARES =
      "SELECT count(*) FROM pg_locks WHERE locktype = 'advisory' AND classid = x'50ab'::int"
          + " AND objid = 2 AND mode = 'ShareLock' AND granted"
          + " AND database = (SELECT oid FROM pg_database WHERE datname = current_database())";

  private static final String END_WRITERS =
      "SELECT count(pg_terminate_backend(pid)) FROM pg_stat_activity"
          + " WHERE application_name LIKE 'soakbench-writer %' AND datname = current_database()";

  private static final String TAKE_IT_AWAY =
      "SELECT pg_terminate_backend(pid)::int, pg_advisory_lock(x'50ab'::int, 1)"
          + " FROM pg_stat_activity WHERE application_name LIKE 'soakbench-writer %'"
          + " AND datname = current_database()";

  private static final String SESSIONS =
      "SELECT sessions FROM pg_stat_database WHERE datname = current_database()";

  private final DatabaseSettings settings = SharedServer.empty();

  @Test
  void whoTakesOverWaitsForWhatTheFormerWriterHasUnderWay() throws Exception {
    ServerAddress address = ServerAddress.of(settings);
    Database former = Database.open(settings);
    WriterLock next = new WriterLock(address, RackSet.ALL);
    try (Connection connection = address.dataSource(60).getConnection()) {
      Unit unit = former.soakStore().begin();
      unit.writeSamples(Samples.samples("A-1", 0, 10));
      assertThat(count(connection, SHARES)).isEqualTo(1);
      assertThat(next.tryTake()).isFalse();
      assertThat(count(connection, END_WRITERS)).isEqualTo(1);
      StoreException waited = catchThrowableOfType(StoreException.class, next::tryTake);
      // Either it waits for the unit in vain, or the former writer was quicker to take it again.
      assertThat(waited == null || waited.transientFault()).isTrue();
      unit.commit();
      unit.close();
      assertThat(count(connection, SHARES)).isZero();
      former.close();
      // The server lets go of it once it has seen that the former's connection is closed.
      Awaitility.await()
          .atMost(Duration.ofSeconds(30))
          .until(() -> Retries.untilThere(next::tryTake));
      assertThat(next.holder()).hasValueSatisfying(w -> assertThat(w.holder().pid()).isPositive());
    } finally {
      next.close();
      former.close();
    }
  }

  @Test
  void manyWhoWantToWriteWithoutTheRightAskForItOnceASecond() throws Exception {
    try (Database writer = Database.open(settings);
        Connection connection = SharedServer.connect(settings)) {
      count(connection, TAKE_IT_AWAY);
      Awaitility.await()
          .atMost(Duration.ofSeconds(30))
          .until(() -> refused(writer).contains("another service holds the right to write"));
      long before = count(connection, SESSIONS);
      long beganNs = System.nanoTime();
      for (int i = 0; i < 200; i++) {
        assertThat(refused(writer)).contains("another service holds the right to write");
      }
      // The connections of the pool, and one for each second and each of the two who ask.
      long seconds = Duration.ofNanos(System.nanoTime() - beganNs).toSeconds();
      assertThat(count(connection, SESSIONS) - before).isLessThan(20 + 3 * seconds);
    }
  }

  private WriterLock wanting(String... racks) {
    RackSet set = racks.length == 0 ? RackSet.ALL : RackSet.of(List.of(racks));
    return new WriterLock(ServerAddress.of(settings), set);
  }

  @Test
  void setsOfRacksThatShareNoneAreHeldSideBySideAndOthersWaitForTheirHolder() {
    try (WriterLock one = wanting("A", "B");
        WriterLock other = wanting("C", "-");
        WriterLock overlapping = wanting("B", "D");
        WriterLock all = wanting()) {
      assertThat(one.tryTake()).isTrue();
      assertThat(other.tryTake()).isTrue();
      assertThat(overlapping.tryTake()).isFalse();
      assertThat(overlapping.holder().orElseThrow().words()).endsWith(", for rack B");
      assertThat(all.tryTake()).isFalse();
      one.close();
      Awaitility.await().atMost(Duration.ofSeconds(30)).until(overlapping::tryTake);
      assertThat(all.tryTake()).isFalse();
      other.close();
      overlapping.close();
      Awaitility.await().atMost(Duration.ofSeconds(30)).until(all::tryTake);
      try (WriterLock late = wanting("A")) {
        assertThat(late.tryTake()).isFalse();
        assertThat(late.holder().orElseThrow().racks()).isEqualTo(RackSet.ALL);
      }
    }
  }

  @Test
  void whoTakesOverARackWaitsForNoWorkOnOthers() {
    RackSet racks = RackSet.of(List.of("A"));
    try (Database writer = Database.prepared(settings, racks);
        WriterLock next = wanting("B")) {
      writer.openToWrite(step -> {});
      try (Unit unit = writer.soakStore().begin()) {
        unit.writeSamples(Samples.samples("A-1", 0, 10));
        assertThat(next.tryTake()).isTrue();
        unit.commit();
      }
    }
  }

  private static String refused(Database database) {
    StoreException why =
        catchThrowableOfType(StoreException.class, () -> database.soakStore().begin().close());
    return why == null ? "" : why.getMessage();
  }

  private static long count(Connection connection, String sql) throws SQLException {
    try (Statement statement = connection.createStatement();
        ResultSet rows = statement.executeQuery(sql)) {
      rows.next();
      return rows.getLong(1);
    }
  }
}
