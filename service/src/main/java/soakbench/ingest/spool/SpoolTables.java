package soakbench.ingest.spool;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import soakbench.model.Sample;

/** What is done with an open spool's tables. Each change is one transaction. */
final class SpoolTables {
  private final Connection connection;

  SpoolTables(Connection connection) {
    this.connection = connection;
  }

  /** Samples that were read, and ids of rows that are not what was written. */
  record Read(List<Spool.Entry> entries, List<Long> damaged) {}

  private record Newest(long timeUs, int samples) {
    Newest plus(Newest other) {
      return new Newest(Math.max(timeUs, other.timeUs), samples + other.samples);
    }
  }

  void append(long firstId, List<Sample> samples) throws SQLException {
    begin("FULL");
    insert(firstId, samples);
    SpoolFile.execute(connection, "COMMIT");
  }

  private void insert(long firstId, List<Sample> samples) throws SQLException {
    Map<String, Newest> newest = new HashMap<>();
    long id = firstId;
    try (PreparedStatement insert = connection.prepareStatement(SpoolRow.INSERT)) {
      for (Sample sample : samples) {
        SpoolRow.bind(insert, id++, sample);
        insert.addBatch();
        newest.merge(sample.tracker(), new Newest(sample.timeUs(), 1), Newest::plus);
      }
      insert.executeBatch();
    }
    note(newest);
  }

  private void note(Map<String, Newest> newest) throws SQLException {
    String sql =
        "INSERT INTO tracker VALUES (?, ?, ?) ON CONFLICT (tracker) DO UPDATE SET newest_us ="
            + " max(newest_us, excluded.newest_us), samples = samples + excluded.samples";
    try (PreparedStatement note = connection.prepareStatement(sql)) {
      for (Map.Entry<String, Newest> each : newest.entrySet()) {
        note.setString(1, each.getKey());
        note.setLong(2, each.getValue().timeUs());
        note.setInt(3, each.getValue().samples());
        note.addBatch();
      }
      note.executeBatch();
    }
  }

  Read oldest(int most) throws SQLException {
    return oldest("sample", most);
  }

  private Read oldest(String table, int most) throws SQLException {
    Read read = new Read(new ArrayList<>(), new ArrayList<>());
    String sql = "SELECT " + SpoolRow.COLUMNS + " FROM " + table + " ORDER BY id LIMIT ?";
    try (PreparedStatement select = connection.prepareStatement(sql)) {
      select.setInt(1, most);
      try (ResultSet rows = select.executeQuery()) {
        while (rows.next()) {
          long id = rows.getLong(1);
          SpoolRow.read(rows).ifPresentOrElse(read.entries()::add, () -> read.damaged().add(id));
        }
      }
    }
    return read;
  }

  /** Deletes single rows and returns how many were there. */
  int delete(List<Long> ids) throws SQLException {
    begin("NORMAL");
    int deleted = 0;
    try (PreparedStatement delete =
        connection.prepareStatement("DELETE FROM sample WHERE id = ?")) {
      for (long id : ids) {
        delete.setLong(1, id);
        deleted += delete.executeUpdate();
      }
    }
    SpoolFile.execute(connection, "COMMIT");
    return deleted;
  }

  /** Deletes all rows up to this one, sets the refused ones aside; returns how many were there. */
  int settle(long upToId, List<Spool.Refused> refused) throws SQLException {
    // Written through with the next append: after a power cut they are sent again, no more.
    begin("NORMAL");
    if (!refused.isEmpty()) {
      setAside(refused);
    }
    int deleted;
    try (PreparedStatement delete =
        connection.prepareStatement("DELETE FROM sample WHERE id <= ?")) {
      delete.setLong(1, upToId);
      deleted = delete.executeUpdate();
    }
    SpoolFile.execute(connection, "COMMIT");
    return deleted;
  }

  /** Appends the oldest refused samples anew, so many at most; returns how many. */
  int retry(long firstId, int most) throws SQLException {
    Read read = oldest("refused", most);
    List<Sample> samples = read.entries().stream().map(Spool.Entry::sample).toList();
    begin("FULL");
    insert(firstId, samples);
    // Those that are damaged go as well: what they were is not known.
    SpoolFile.execute(
        connection,
        "DELETE FROM refused WHERE id IN (SELECT id FROM refused ORDER BY id LIMIT " + most + ")");
    SpoolFile.execute(connection, "COMMIT");
    return samples.size();
  }

  private void setAside(List<Spool.Refused> refused) throws SQLException {
    String sql =
        "INSERT OR REPLACE INTO refused ("
            + SpoolRow.COLUMNS
            + ", reason) VALUES ("
            + SpoolRow.PARAMETERS
            + ", ?)";
    try (PreparedStatement insert = connection.prepareStatement(sql)) {
      for (Spool.Refused each : refused) {
        SpoolRow.bind(insert, each.entry().id(), each.entry().sample());
        insert.setString(SpoolRow.COUNT + 1, each.reason());
        insert.addBatch();
      }
      insert.executeBatch();
    }
  }

  /** Each tracker's newest time, of all that was ever appended. */
  Map<String, Long> newestUs() throws SQLException {
    Map<String, Long> newest = new HashMap<>();
    try (PreparedStatement select =
            connection.prepareStatement("SELECT tracker, newest_us FROM tracker");
        ResultSet rows = select.executeQuery()) {
      while (rows.next()) {
        newest.put(rows.getString(1), rows.getLong(2));
      }
    }
    return newest;
  }

  long count(String table) throws SQLException {
    return SpoolFile.number(connection, "SELECT count(*) FROM " + table);
  }

  /** The largest id that was ever given. */
  long lastId() throws SQLException {
    long last = SpoolFile.number(connection, "SELECT max(id) FROM sample");
    return Math.max(last, SpoolFile.number(connection, "SELECT sum(samples) FROM tracker"));
  }

  long usedBytes() throws SQLException {
    long pages = SpoolFile.number(connection, "PRAGMA page_count");
    long free = SpoolFile.number(connection, "PRAGMA freelist_count");
    return (pages - free) * SpoolFile.number(connection, "PRAGMA page_size");
  }

  private void begin(String synchronous) throws SQLException {
    SpoolFile.execute(connection, "PRAGMA synchronous = " + synchronous);
    SpoolFile.execute(connection, "BEGIN IMMEDIATE");
  }
}
