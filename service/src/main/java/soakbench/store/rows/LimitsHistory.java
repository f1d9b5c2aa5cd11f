package soakbench.store.rows;

import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.List;
import soakbench.model.LimitsChange;
import soakbench.store.connection.Query;

/** Table {@code limits_history}. */
public final class LimitsHistory {
  private LimitsHistory() {}

  public static int add(Connection connection, LimitsChange change) throws SQLException {
    return Query.change(
        connection,
        "INSERT INTO limits_history (since, origin, limits) VALUES (?, ?, ?::jsonb)",
        SqlTimes.time(change.sinceUs()),
        Query.word(change.origin()),
        LimitsColumn.text(change.limits()));
  }

  /** Until the transaction ends nobody else adds to it. */
  public static int hold(Connection connection) throws SQLException {
    return Query.change(connection, "LOCK TABLE limits_history IN SHARE ROW EXCLUSIVE MODE");
  }

  /** The newest entry holds for the soaks under way as well. */
  public static int holdForSoaks(Connection connection) throws SQLException {
    return Query.change(
        connection,
        "UPDATE limits_history SET for_soaks = true"
            + " WHERE entry = (SELECT max(entry) FROM limits_history)");
  }

  /** Whether it does. */
  public static boolean doHoldForSoaks(Connection connection) throws SQLException {
    return Query.first(
            connection,
            rows -> rows.getBoolean(1),
            "SELECT for_soaks FROM limits_history ORDER BY entry DESC LIMIT 1")
        .orElse(false);
  }

  /** The newest entries, the newest first. */
  public static List<LimitsChange> list(Connection connection, int most) throws SQLException {
    return Query.list(
        connection,
        LimitsHistory::read,
        "SELECT since, origin, limits FROM limits_history ORDER BY entry DESC LIMIT ?",
        most);
  }

  private static LimitsChange read(ResultSet rows) throws SQLException {
    return new LimitsChange(
        SqlTimes.us(rows, 1),
        Query.constant(LimitsChange.Origin.class, rows.getString(2)),
        LimitsColumn.limits(rows.getString(3)));
  }
}
