package soakbench.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import soakbench.live.SoakStore.Unit;
import soakbench.live.StoreException;

/** No work of a writer that lost its right comes after the first of the next one. */
@Timeout(180)
class WriterLockTest {
  private static final String SHARES =
      "SELECT count(*) FROM pg_locks WHERE locktype = 'advisory' AND classid = x'50ab'::int"
          + " AND objid = 2 AND mode = 'ShareLock' AND granted";

  private static final String END_WRITERS =
      "SELECT count(pg_terminate_backend(pid)) FROM pg_stat_activity"
          + " WHERE application_name LIKE 'soakbench-writer %'";

  @TempDir Path folder;

  @Test
  void whoTakesOverWaitsForWhatTheFormerWriterHasUnderWay() throws Exception {
    EmbeddedServer server = EmbeddedServer.start(folder);
    ServerAddress address = server.address();
    DatabaseSettings settings =
        DatabaseSettings.url(address.url(), address.user(), address.password());
    Database former = Database.open(settings);
    WriterLock next = new WriterLock(address);
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
      assertThat(Retries.untilThere(next::tryTake)).isTrue();
      assertThat(next.holder()).hasValueSatisfying(w -> assertThat(w.pid()).isPositive());
    } finally {
      next.close();
      former.close();
      server.close();
    }
  }

  private static long count(Connection connection, String sql) throws SQLException {
    try (Statement statement = connection.createStatement();
        ResultSet rows = statement.executeQuery(sql)) {
      rows.next();
      return rows.getLong(1);
    }
  }
}
