package soakbench.store.rows;

import java.sql.Connection;
import java.sql.SQLException;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import soakbench.model.RackAndLot;
import soakbench.store.connection.Query;

/** Where each tracker of table {@code tracker} lies and where it came from. */
public final class RacksAndLots {
  private RacksAndLots() {}

  /** How often a tracker was moved to another rack; none is until the transaction ends. */
  public static long moves(Connection connection) throws SQLException {
    // A statement of its own: what one sees is fixed before it waits.
    Query.list(connection, rows -> "", "SELECT pg_advisory_xact_lock_shared(x'50ab'::int, 4)");
    return Query.first(connection, rows -> rows.getLong(1), "SELECT moves FROM roster_moves")
        .orElseThrow();
  }

  /** The racks that trackers are on, and the empty name for those that are on none. */
  public static List<String> racks(Connection connection) throws SQLException {
    return Query.list(
        connection,
        rows -> rows.getString(1),
        "SELECT rack FROM tracker UNION SELECT '' ORDER BY rack");
  }

  /** By tracker id. */
  public static Map<String, RackAndLot> all(Connection connection) throws SQLException {
    return Query.list(
            connection,
            rows ->
                Map.entry(rows.getString(1), new RackAndLot(rows.getString(2), rows.getString(3))),
            "SELECT id, rack, lot FROM tracker")
        .stream()
        .collect(Collectors.toUnmodifiableMap(Map.Entry::getKey, Map.Entry::getValue));
  }
}
