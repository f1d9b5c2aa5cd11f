package soakbench.store.backup;

import java.sql.Connection;
import java.sql.SQLException;
import soakbench.store.connection.Query;

/** The sequences behind columns that the database counts up. */
final class Counters {
  private Counters() {}

  /** The sequence's name for a statement. */
  static String sequence(Connection connection, StoredTable table, String column)
      throws SQLException {
    return Query.first(
            connection,
            rows -> rows.getString(1),
            "SELECT pg_get_serial_sequence(?, ?)",
            table.quoted(),
            column)
        .orElseThrow();
  }

  /** Has it count on from a number. */
  static void set(Connection connection, StoredTable table, Manifest.Counter counter)
      throws SQLException {
    Query.first(
        connection,
        rows -> rows.getLong(1),
        "SELECT setval(pg_get_serial_sequence(?, ?)::regclass, ?, false)",
        table.quoted(),
        counter.column(),
        counter.next());
  }
}
