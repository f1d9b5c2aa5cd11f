package soakbench.store;

import java.sql.Connection;
import java.sql.SQLException;
import java.util.List;
import java.util.Optional;

/** Table {@code stale}. */
final class StaleMarks {
  private StaleMarks() {}

  static int put(Connection connection, String tracker, long fromSecond) throws SQLException {
    return Query.change(
        connection,
        "INSERT INTO stale (tracker, from_second) VALUES (?, ?) ON CONFLICT (tracker) DO UPDATE"
            + " SET from_second = LEAST(stale.from_second, EXCLUDED.from_second)",
        tracker,
        fromSecond);
  }

  static Optional<Long> find(Connection connection, String tracker) throws SQLException {
    return Query.list(
            connection,
            rows -> rows.getLong(1),
            "SELECT from_second FROM stale WHERE tracker = ?",
            tracker)
        .stream()
        .findFirst();
  }

  static List<String> trackers(Connection connection) throws SQLException {
    return Query.list(
        connection, rows -> rows.getString(1), "SELECT tracker FROM stale ORDER BY tracker");
  }

  static int clear(Connection connection, String tracker) throws SQLException {
    return Query.change(connection, "DELETE FROM stale WHERE tracker = ?", tracker);
  }
}
