package soakbench.store.rows;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.List;
import soakbench.model.State;
import soakbench.model.StateChange;
import soakbench.store.connection.Query;

/** Table {@code timeline}. */
public final class Timelines {
  private Timelines() {}

  public static int append(Connection connection, String soak, List<StateChange> changes)
      throws SQLException {
    String sql = "INSERT INTO timeline (soak, time, state, revised) VALUES (?, ?, ?, ?)";
    try (PreparedStatement statement = connection.prepareStatement(sql)) {
      for (StateChange change : changes) {
        statement.setString(1, soak);
        statement.setObject(2, SqlTimes.time(change.timeUs()));
        statement.setString(3, change.state().word());
        statement.setBoolean(4, change.revised());
        statement.addBatch();
      }
      return statement.executeBatch().length;
    }
  }

  public static int replace(Connection connection, String soak, List<StateChange> changes)
      throws SQLException {
    Query.change(connection, "DELETE FROM timeline WHERE soak = ?", soak);
    return append(connection, soak, changes);
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
