package soakbench.store.rows;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.OffsetDateTime;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
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

  /** Whether something is stored under the key of a row. */
  boolean isStored(T row) throws SQLException {
    Layout.Key key = layout.key(row);
    String sql = "SELECT 1 FROM " + layout.table() + " WHERE tracker = ? AND time = ?";
    try (PreparedStatement statement = connection.prepareStatement(lettingGo(sql))) {
      statement.setString(1, key.tracker());
      statement.setObject(2, SqlTimes.time(key.timeUs()));
      try (ResultSet found = rows(statement)) {
        return found.next();
      }
    }
  }

  /**
   * Reads, and gives back the locks that reading took. Kept until the rows are written, they would
   * meet TimescaleDB's compressing of the same chunk half way: it lets others read until it has
   * done, and write not at all, so each would wait for the other. All in one statement, for which
   * the server is waited for once.
   */
  private static String lettingGo(String reading) {
    return "SAVEPOINT looked; " + reading + "; ROLLBACK TO looked; RELEASE looked";
  }

  /** What the one query among several statements finds. */
  private static ResultSet rows(PreparedStatement statement) throws SQLException {
    boolean isQuery = statement.execute();
    while (!isQuery) {
      isQuery = statement.getMoreResults();
    }
    return statement.getResultSet();
  }

  /**
   * Copies rows straight in.
   *
   * @return false, with nothing written, if a key was there already or comes twice
   */
  public boolean copyStraight(List<T> rows) throws SQLException {
    // A COPY that itself waits for the table while chunks take its name (store.chunks) is refused.
    // The savepoint is left to the end of the unit: to release it would ask the server once more.
    execute("LOCK TABLE ONLY " + layout.table() + " IN ROW EXCLUSIVE MODE; SAVEPOINT straight");
    try {
      layout.copy(connection, layout.table(), rows);
      return true;
    } catch (SQLException e) {
      if (!DatabaseFaults.state(e).equals(DatabaseFaults.DUPLICATE_KEY)) {
        throw e;
      }
      execute("ROLLBACK TO straight");
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
    Map<Layout.Key, T> stored = storedAmong(rows, read);
    execute("TRUNCATE " + staged);
    List<T> fresh = rows.stream().filter(row -> !stored.containsKey(layout.key(row))).toList();
    if (!fresh.isEmpty() && !copyStraight(fresh)) {
      throw new SQLException("another program wrote the same rows at this moment", "40001");
    }
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

  /**
   * What is stored under the keys of staged rows. The server compares them and hands over only what
   * is not the same: most rows that come again are, and reading them all back would cost more than
   * writing them did. It goes through the stretches in which they lie: each key by itself would be
   * unpacked out of a thousand where they are compressed, and as a plain join the planner, who
   * knows nothing of a table just filled, reads all that was ever stored.
   */
  private Map<Layout.Key, T> storedAmong(List<T> rows, Query.Row<T> read) throws SQLException {
    Map<Layout.Key, T> stored = new HashMap<>();
    rows.forEach(row -> stored.put(layout.key(row), row));
    List<KeyStretch> stretches = KeyStretch.of(stored.keySet());
    try (PreparedStatement statement = connection.prepareStatement(lettingGo(othersSql()))) {
      KeyStretch.set(connection, statement, stretches);
      try (ResultSet found = rows(statement)) {
        while (found.next()) {
          Layout.Key key =
              new Layout.Key(
                  found.getString("again_tracker"),
                  SqlTimes.us(found.getObject("again_time", OffsetDateTime.class)));
          if (found.getBoolean("new")) {
            stored.remove(key);
          } else {
            stored.put(key, read.read(found));
          }
        }
      }
    }
    return stored;
  }

  /** Finds the staged rows that are not stored just so, with what is stored in their place. */
  private String othersSql() {
    return """
    SELECT %s, again.tracker AS again_tracker, again.time AS again_time, kept.time IS NULL AS new
    FROM %s again LEFT JOIN (
      SELECT one.* FROM unnest(?, ?, ?) AS stretch (tracker, first, last) CROSS JOIN LATERAL (
        SELECT * FROM %s one WHERE one.tracker = stretch.tracker
        AND one.time BETWEEN stretch.first AND stretch.last AND one.time BETWEEN ? AND ? OFFSET 0
      ) one
    ) kept ON kept.tracker = again.tracker AND kept.time = again.time
    WHERE kept.time IS NULL OR (%s) IS DISTINCT FROM (%s)\
    """
        .formatted(
            layout.readOf("kept"),
            staged,
            layout.table(),
            layout.readOf("kept"),
            layout.readOf("again"));
  }

  private void execute(String sql) throws SQLException {
    try (Statement statement = connection.createStatement()) {
      statement.execute(sql);
    }
  }
}
