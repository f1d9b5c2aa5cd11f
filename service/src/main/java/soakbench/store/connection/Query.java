package soakbench.store.connection;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;

/** Plain statements with their values in order. */
public final class Query {
  private static final int FETCH_ROWS = 5_000;

  private Query() {}

  /** Makes a record of the row that the result stands on. */
  @FunctionalInterface
  public interface Row<T> {
    T read(ResultSet rows) throws SQLException;
  }

  public static <T> List<T> list(Connection connection, Row<T> row, String sql, Object... values)
      throws SQLException {
    List<T> found = new ArrayList<>();
    each(connection, row, found::add, sql, values);
    return List.copyOf(found);
  }

  /** Hands over row after row; with autocommit off only some thousand are held at a time. */
  public static <T> void each(
      Connection connection, Row<T> row, Consumer<T> taker, String sql, Object... values)
      throws SQLException {
    try (PreparedStatement statement = prepare(connection, sql, values)) {
      statement.setFetchSize(FETCH_ROWS);
      try (ResultSet rows = statement.executeQuery()) {
        while (rows.next()) {
          taker.accept(row.read(rows));
        }
      }
    }
  }

  /** Returns how many rows were changed. */
  public static int change(Connection connection, String sql, Object... values)
      throws SQLException {
    try (PreparedStatement statement = prepare(connection, sql, values)) {
      return statement.executeUpdate();
    }
  }

  private static PreparedStatement prepare(Connection connection, String sql, Object... values)
      throws SQLException {
    PreparedStatement statement = connection.prepareStatement(sql);
    for (int i = 0; i < values.length; i++) {
      statement.setObject(i + 1, values[i]);
    }
    return statement;
  }
}
