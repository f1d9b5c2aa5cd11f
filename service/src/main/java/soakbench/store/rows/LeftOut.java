package soakbench.store.rows;

import java.sql.Connection;
import java.sql.SQLException;
import java.util.LinkedHashMap;
import java.util.Map;
import soakbench.model.Soak;
import soakbench.store.connection.Query;

/**
 * Table {@code soak_left_out}: soaks that people left out of the figures. A soak is left out if a
 * moment of it is noted there.
 */
public final class LeftOut {
  private static final String OF_A_SOAK =
      " FROM soak_left_out WHERE tracker = ? AND at >= ? AND at <= ?";

  private LeftOut() {}

  /**
   * The reason why a soak is left out; null where it counts. In SQL.
   *
   * @param soak what the statement calls the row of table {@code soak}
   */
  public static String reason(String soak) {
    return ("(SELECT l.reason FROM soak_left_out l WHERE l.tracker = %1$s.tracker"
            + " AND l.at >= %1$s.start_time AND l.at <= %1$s.end_time ORDER BY l.at LIMIT 1)")
        .formatted(soak);
  }

  /** The reasons of all that are left out, by soak. */
  public static Map<String, String> all(Connection connection) throws SQLException {
    Map<String, String> reasons = new LinkedHashMap<>();
    Query.each(
        connection,
        rows -> Map.entry(rows.getString(1), rows.getString(2)),
        row -> reasons.putIfAbsent(row.getKey(), row.getValue()),
        "SELECT s.id, l.reason FROM soak_left_out l JOIN soak s ON s.tracker = l.tracker"
            + " AND l.at >= s.start_time AND l.at <= s.end_time ORDER BY s.id, l.at");
    return reasons;
  }

  /** Notes a soak, in place of what was noted of it before. */
  public static int put(Connection connection, Soak soak, String reason) throws SQLException {
    remove(connection, soak);
    return Query.change(
        connection,
        "INSERT INTO soak_left_out (tracker, at, reason) VALUES (?, ?, ?)",
        soak.tracker(),
        SqlTimes.time(soak.startUs()),
        reason);
  }

  /** Forgets what is noted of a soak; returns how many notes there were. */
  public static int remove(Connection connection, Soak soak) throws SQLException {
    return Query.change(
        connection,
        "DELETE" + OF_A_SOAK,
        soak.tracker(),
        SqlTimes.time(soak.startUs()),
        SqlTimes.time(soak.endUs()));
  }

  /** Whether a soak is left out. */
  public static boolean has(Connection connection, Soak soak) throws SQLException {
    return Query.first(
            connection,
            rows -> rows.getString(1),
            "SELECT reason" + OF_A_SOAK,
            soak.tracker(),
            SqlTimes.time(soak.startUs()),
            SqlTimes.time(soak.endUs()))
        .isPresent();
  }
}
