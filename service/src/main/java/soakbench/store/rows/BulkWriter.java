package soakbench.store.rows;

import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Savepoint;
import java.sql.Statement;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import soakbench.store.connection.DatabaseFaults;
import soakbench.store.connection.Query;

/**
 * Writes many rows by COPY. COPY fails whole on one key that is there already, so it is tried under
 * a savepoint; only when something clashes the rows go through a temporary table.
 */
public final class BulkWriter<T> {
  private final Connection connection;
  private final Layout<T> layout;
  private final String staged;

  /**
   * @param connection with autocommit off
   */
  public BulkWriter(Connection connection, Layout<T> layout) {
    this.connection = connection;
    this.layout = layout;
    this.staged = "staged_" + layout.table();
  }

  /**
   * Copies rows straight in.
   *
   * @return false, with nothing written, if a key was there already or comes twice
   */
  public boolean copyStraight(List<T> rows) throws SQLException {
    // A COPY that itself waits for the table while chunks take its name (store.chunks) is refused.
    execute("LOCK TABLE ONLY " + layout.table() + " IN ROW EXCLUSIVE MODE");
    Savepoint before = connection.setSavepoint();
    try {
      layout.copy(connection, layout.table(), rows);
      connection.releaseSavepoint(before);
      return true;
    } catch (SQLException e) {
      if (!DatabaseFaults.state(e).equals(DatabaseFaults.DUPLICATE_KEY)) {
        throw e;
      }
      connection.rollback(before);
      return false;
    }
  }

  /**
   * Writes the rows whose key is new; each key may come once.
   *
   * @param read makes one of a row of the layout's columns
   * @return what is stored now under the keys that were there before
   */
  Map<Layout.Key, T> writeNew(List<T> rows, Query.Row<T> read) throws SQLException {
    stage(rows);
    Set<Layout.Key> fresh = insertNew();
    Map<Layout.Key, T> stored = new HashMap<>();
    if (fresh.size() < rows.size()) {
      for (T row : rows) {
        Layout.Key key = layout.key(row);
        if (!fresh.contains(key)) {
          stored.put(key, row);
        }
      }
      otherwiseStored(read).forEach(row -> stored.put(layout.key(row), row));
    }
    execute("TRUNCATE " + staged);
    return stored;
  }

  /** Writes rows, replacing those with the same key; of two in the list the last stays. */
  public void replace(List<T> rows) throws SQLException {
    Map<Layout.Key, T> last = new LinkedHashMap<>();
    rows.forEach(row -> last.put(layout.key(row), row));
    stage(List.copyOf(last.values()));
    String newValues =
        Stream.of(layout.columns().split(",\\s*"))
            .map(column -> column + " = EXCLUDED." + column)
            .collect(Collectors.joining(", "));
    execute(
        "INSERT INTO %s SELECT %s FROM %s ON CONFLICT (tracker, time) DO UPDATE SET %s"
            .formatted(layout.into(layout.table()), layout.columns(), staged, newValues));
    execute("TRUNCATE " + staged);
  }

  private void stage(List<T> rows) throws SQLException {
    execute(
        "CREATE TEMP TABLE IF NOT EXISTS %s (LIKE %s) ON COMMIT DELETE ROWS"
            .formatted(staged, layout.table()));
    layout.copy(connection, staged, rows);
  }

  private Set<Layout.Key> insertNew() throws SQLException {
    String sql =
        "INSERT INTO %s SELECT %s FROM %s ON CONFLICT DO NOTHING RETURNING tracker, time"
            .formatted(layout.into(layout.table()), layout.columns(), staged);
    Set<Layout.Key> fresh = new HashSet<>();
    try (Statement statement = connection.createStatement();
        ResultSet rows = statement.executeQuery(sql)) {
      while (rows.next()) {
        fresh.add(
            new Layout.Key(
                rows.getString(1), SqlTimes.us(rows.getObject(2, OffsetDateTime.class))));
      }
    }
    return fresh;
  }

  /**
   * What is stored under staged keys with other values than those staged. The server compares them,
   * bit by bit: most rows that come again are the same, and reading them all back would cost more
   * than writing them did. Each is looked up by its key, which the limit makes sure of: as a plain
   * join the planner, who knows nothing of a table just filled, reads all that was ever stored.
   */
  private List<T> otherwiseStored(Query.Row<T> read) throws SQLException {
    String columns =
        Stream.of(layout.columns().split(",\\s*"))
            .map(column -> "kept." + column)
            .collect(Collectors.joining(", "));
    String sql =
        """
        SELECT %s FROM %s again CROSS JOIN LATERAL (
          SELECT * FROM %s one WHERE one.tracker = again.tracker AND one.time = again.time LIMIT 1
        ) kept WHERE NOT kept *= again\
        """
            .formatted(columns, staged, layout.table());
    List<T> found = new ArrayList<>();
    try (Statement statement = connection.createStatement();
        ResultSet rows = statement.executeQuery(sql)) {
      while (rows.next()) {
        found.add(read.read(rows));
      }
    }
    return found;
  }

  private void execute(String sql) throws SQLException {
    try (Statement statement = connection.createStatement()) {
      statement.execute(sql);
    }
  }
}
