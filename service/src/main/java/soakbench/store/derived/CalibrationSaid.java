package soakbench.store.derived;

import java.sql.Connection;
import java.sql.SQLException;
import java.util.HashMap;
import java.util.Map;
import soakbench.model.Soak;
import soakbench.store.connection.Query;
import soakbench.store.rows.Times;

/** Table {@code calibration_said}: the only thing of calibrations that is not derived. */
final class CalibrationSaid {
  private static final long US_PER_S = 1_000_000L;

  private CalibrationSaid() {}

  static int put(Connection connection, String tracker, long atUs, boolean was)
      throws SQLException {
    return Query.change(
        connection,
        "INSERT INTO calibration_said (tracker, at, was) VALUES (?, ?, ?)"
            + " ON CONFLICT (tracker, at) DO UPDATE SET was = EXCLUDED.was",
        tracker,
        Times.time(atUs),
        was);
  }

  static int clear(Connection connection, String tracker, long atUs) throws SQLException {
    return Query.change(
        connection,
        "DELETE FROM calibration_said WHERE tracker = ? AND at = ?",
        tracker,
        Times.time(atUs));
  }

  /** What was said of a soak: at which second since 1970 it was, or was not, calibrated. */
  static Map<Long, Boolean> of(Connection connection, Soak soak) throws SQLException {
    Map<Long, Boolean> said = new HashMap<>();
    Query.each(
        connection,
        rows -> Map.entry(Times.us(rows, 1) / US_PER_S, rows.getBoolean(2)),
        row -> said.put(row.getKey(), row.getValue()),
        "SELECT at, was FROM calibration_said WHERE tracker = ? AND at >= ? AND at <= ?",
        soak.tracker(),
        Times.time(soak.startUs() - US_PER_S),
        Times.time(soak.endUs() + 2 * US_PER_S));
    return said;
  }
}
