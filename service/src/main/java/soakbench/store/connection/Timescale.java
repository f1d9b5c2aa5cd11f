package soakbench.store.connection;

import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.Arrays;
import java.util.stream.Stream;
import javax.sql.DataSource;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.live.StoreException;
import soakbench.store.server.ServerAddress;

/** Whether the server has a TimescaleDB that can be relied on. */
final class Timescale {
  private static final Logger LOG = LoggerFactory.getLogger(Timescale.class);

  /** Before it, ON CONFLICT DO NOTHING on compressed chunks stopped at the first conflict. */
  private static final String OLDEST = "2.18.1";

  private static final String WITHOUT = "; samples and bins stay plain tables";

  private Timescale() {}

  /** Creates the extension where the server has it; logs in one line why there is none. */
  static boolean usable(DataSource source, ServerAddress address) {
    try (Connection connection = source.getConnection();
        Statement statement = connection.createStatement()) {
      String available =
          one(
              statement,
              "SELECT default_version FROM pg_available_extensions WHERE name = 'timescaledb'");
      if (available == null) {
        LOG.info("{} has no TimescaleDB{}", address, WITHOUT);
        return false;
      }
      create(statement);
      return newEnough(
          one(statement, "SELECT extversion FROM pg_extension WHERE extname = 'timescaledb'"));
    } catch (SQLException e) {
      StoreException fault = DatabaseFaults.of("looking for TimescaleDB", e);
      if (fault.transientFault()) {
        throw fault;
      }
      LOG.warn(
          "TimescaleDB can't be used on {} ({}){}", address, DatabaseFaults.detail(e), WITHOUT);
      return false;
    }
  }

  /** Another program may do so at the same moment, which the server takes for a mistake. */
  private static void create(Statement statement) throws SQLException {
    String create = "CREATE EXTENSION IF NOT EXISTS timescaledb";
    try {
      statement.execute(create);
    } catch (SQLException e) {
      if (!DatabaseFaults.state(e).equals(DatabaseFaults.DUPLICATE_KEY)) {
        throw e;
      }
      statement.execute(create);
    }
  }

  /** Whether samples or bins were written before there were hypertables for them. */
  static boolean hasPlainRows(DataSource source) {
    try (Connection connection = source.getConnection();
        Statement statement = connection.createStatement()) {
      return ChunkStatus.read(connection).filter(ChunkStatus::hypertables).isEmpty()
          && one(
                  statement,
                  "(SELECT tracker FROM sample LIMIT 1) UNION ALL"
                      + " (SELECT tracker FROM bin LIMIT 1)")
              != null;
    } catch (SQLException e) {
      throw DatabaseFaults.of("looking for rows to be moved into chunks", e);
    }
  }

  private static boolean newEnough(String version) {
    if (compare(version, OLDEST) >= 0) {
      return true;
    }
    LOG.warn("TimescaleDB {} is older than {}{}; update it", version, OLDEST, WITHOUT);
    return false;
  }

  /** Orders versions such as 2.9.3, 2.18.1 and 2.22.0-dev by their numbers. */
  static int compare(String left, String right) {
    int[] a = numbers(left);
    int[] b = numbers(right);
    return Arrays.compare(a, b);
  }

  private static int[] numbers(String version) {
    return Stream.of(version.split("-")[0].split("\\.")).mapToInt(Integer::parseInt).toArray();
  }

  private static String one(Statement statement, String sql) throws SQLException {
    try (ResultSet rows = statement.executeQuery(sql)) {
      return rows.next() ? rows.getString(1) : null;
    }
  }
}
