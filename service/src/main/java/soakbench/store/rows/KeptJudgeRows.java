package soakbench.store.rows;

import java.sql.Connection;
import java.sql.SQLException;
import java.util.Optional;
import soakbench.live.KeptJudge;
import soakbench.model.Soak;
import soakbench.store.connection.Query;

/** Table {@code kept_judge}. */
public final class KeptJudgeRows {
  /** Only of a stored soak: none else is ever taken up. */
  private static final String PUT =
      "INSERT INTO kept_judge (soak, program, second, bins, readings, content) SELECT id, ?, ?, ?,"
          + " ?, ? FROM soak WHERE id = ? ON CONFLICT (soak) DO UPDATE SET program ="
          + " EXCLUDED.program, second = EXCLUDED.second, bins = EXCLUDED.bins, readings ="
          + " EXCLUDED.readings, content = EXCLUDED.content";

  /** A late sample adds a reading to its bin, whichever program derived that again. */
  private static final String FIND =
      "SELECT k.second, k.bins, k.readings, k.content FROM kept_judge k, LATERAL (SELECT count(*)"
          + " AS bins, sum(temperature_count + gx_count + gy_count + gz_count + ax_count + ay_count"
          + " + az_count) AS readings FROM bin WHERE tracker = ? AND time >= ? AND time <="
          + " to_timestamp(k.second)) given WHERE k.soak = ? AND k.program = ? AND k.bins ="
          + " given.bins AND k.readings = given.readings";

  private KeptJudgeRows() {}

  public static int put(Connection connection, KeptJudge judge) throws SQLException {
    return Query.change(
        connection,
        PUT,
        judge.program(),
        judge.second(),
        judge.bins(),
        judge.readings(),
        judge.content(),
        judge.soak());
  }

  public static Optional<KeptJudge> find(Connection connection, Soak soak, String program)
      throws SQLException {
    return Query.first(
        connection,
        rows ->
            new KeptJudge(
                soak.id(),
                program,
                rows.getLong(1),
                rows.getLong(2),
                rows.getLong(3),
                rows.getBytes(4)),
        FIND,
        soak.tracker(),
        SqlTimes.secondBound(soak.startSecond()),
        soak.id(),
        program);
  }

  public static int delete(Connection connection, String soak) throws SQLException {
    return Query.change(connection, "DELETE FROM kept_judge WHERE soak = ?", soak);
  }

  public static int deleteOf(Connection connection, String tracker) throws SQLException {
    return Query.change(
        connection,
        "DELETE FROM kept_judge WHERE soak IN (SELECT id FROM soak WHERE tracker = ?)",
        tracker);
  }
}
