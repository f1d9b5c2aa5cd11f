package soakbench.store.rows;

import java.sql.Connection;
import java.sql.SQLException;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import soakbench.live.StaleRange;
import soakbench.store.connection.Query;

/** Table {@code stale}. */
public final class StaleRanges {
  private StaleRanges() {}

  public static int put(Connection connection, Map<String, StaleRange> seconds)
      throws SQLException {
    return Query.changeAll(
        connection,
        "INSERT INTO stale (tracker, from_second, to_second) VALUES (?, ?, ?)"
            + " ON CONFLICT (tracker) DO UPDATE"
            + " SET from_second = LEAST(stale.from_second, EXCLUDED.from_second),"
            + " to_second = GREATEST(stale.to_second, EXCLUDED.to_second)",
        seconds.entrySet().stream().map(StaleRanges::values).toList());
  }

  private static Object[] values(Map.Entry<String, StaleRange> its) {
    return new Object[] {its.getKey(), its.getValue().fromSecond(), its.getValue().toSecond()};
  }

  public static Optional<StaleRange> find(Connection connection, String tracker)
      throws SQLException {
    return Query.first(
        connection,
        rows -> new StaleRange(rows.getLong(1), rows.getLong(2)),
        "SELECT from_second, to_second FROM stale WHERE tracker = ?",
        tracker);
  }

  public static List<String> trackers(Connection connection) throws SQLException {
    return Query.list(
        connection, rows -> rows.getString(1), "SELECT tracker FROM stale ORDER BY tracker");
  }

  public static int clear(Connection connection, String tracker) throws SQLException {
    return Query.change(connection, "DELETE FROM stale WHERE tracker = ?", tracker);
  }
}
