package soakbench.store.rows;

import java.sql.Connection;
import java.sql.SQLException;
import java.util.Map;
import java.util.stream.Collectors;
import soakbench.model.Bench;
import soakbench.store.connection.Query;

/** Where each tracker of table {@code tracker} lies and where it came from. */
public final class Benches {
  private Benches() {}

  /** By tracker id. */
  public static Map<String, Bench> all(Connection connection) throws SQLException {
    return Query.list(
            connection,
            rows -> Map.entry(rows.getString(1), new Bench(rows.getString(2), rows.getString(3))),
            "SELECT id, rack, lot FROM tracker")
        .stream()
        .collect(Collectors.toUnmodifiableMap(Map.Entry::getKey, Map.Entry::getValue));
  }
}
