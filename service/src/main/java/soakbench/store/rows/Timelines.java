package soakbench.store.rows;

import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.List;
import java.util.Map;
import soakbench.model.State;
import soakbench.model.StateChange;
import soakbench.store.connection.Query;

/** Table {@code timeline}. */
public final class Timelines {
  private Timelines() {}

  public static int append(Connection connection, Map<String, List<StateChange>> changes)
      throws SQLException {
    return Query.changeAll(
        connection,
        "INSERT INTO timeline (soak, time, state, revised) VALUES (?, ?, ?, ?)",
        changes.entrySet().stream()
            .flatMap(soak -> soak.getValue().stream().map(one -> values(soak.getKey(), one)))
            .toList());
  }

  private static Object[] values(String soak, StateChange change) {
    return new Object[] {
      soak, SqlTimes.time(change.timeUs()), change.state().word(), change.revised()
    };
  }

  public static int replace(Connection connection, String soak, List<StateChange> changes)
      throws SQLException {
    Query.change(connection, "DELETE FROM timeline WHERE soak = ?", soak);
    return append(connection, Map.of(soak, changes));
  }

  public static List<StateChange> read(Connection connection, String soak) throws SQLException {
    return Query.list(
        connection,
        Timelines::change,
        "SELECT time, state, revised FROM timeline WHERE soak = ? ORDER BY entry",
        soak);
  }

  private static StateChange change(ResultSet rows) throws SQLException {
    return new StateChange(
        SqlTimes.us(rows, 1), Query.constant(State.class, rows.getString(2)), rows.getBoolean(3));
  }
}
