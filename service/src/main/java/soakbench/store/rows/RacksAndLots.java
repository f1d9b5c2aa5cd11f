package soakbench.store.rows;

import java.sql.Connection;
import java.sql.SQLException;
import java.util.Map;
import java.util.stream.Collectors;
import soakbench.model.RackAndLot;
import soakbench.store.connection.Query;

/** Where each tracker of table {@code tracker} lies and where it came from. */
public final class RacksAndLots {
  private RacksAndLots() {}

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
