package soakbench.ingest.spool;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayDeque;
import java.util.Optional;
import java.util.Queue;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.sqlite.SQLiteConfig;

/**
 * Reads what can be read of a broken spool. A range of ids is read from both its ends until damage
 * stops it; what lies between is halved, the widest ranges first.
 */
final class SpoolSalvage {
  private static final Logger LOG = LoggerFactory.getLogger(SpoolSalvage.class);

  /** So often it may hit damage; some seconds. A page that lost its place holds some 50 rows. */
  private static final int MOST_HITS = 100_000;

  /** So often, evenly spread, without a single row: then there are none. */
  private static final int MOST_HITS_FOR_NOTHING = 2000;

  /** The range was read to its end. */
  private static final long END = Long.MIN_VALUE;

  /** More samples than any spool has seen. */
  private static final long LARGEST_ID = 1L << 40;

  private record Range(long from, long to) {}

  private final Connection from;
  private final Connection to;
  private final Queue<Range> ranges = new ArrayDeque<>();
  private long kept;

  private SpoolSalvage(Connection from, Connection to) {
    this.from = from;
    this.to = to;
  }

  /** Copies all whole samples of a file and returns how many there were. */
  static long run(Path file, Connection to) throws SQLException {
    SpoolFile.execute(to, "BEGIN");
    long kept = 0;
    try (Connection from = open(file)) {
      SpoolSalvage salvage = new SpoolSalvage(from, to);
      salvage.samples();
      salvage.others();
      kept = salvage.kept;
    } catch (ReadFault e) {
      LOG.debug("nothing of {} can be read", file, e);
    }
    SpoolFile.execute(to, "COMMIT");
    return kept;
  }

  private static Connection open(Path file) throws ReadFault {
    SQLiteConfig config = new SQLiteConfig();
    config.setReadOnly(true);
    try {
      Connection from = config.createConnection("jdbc:sqlite:" + file.toAbsolutePath());
      // Allows a damaged schema: only so it opens a file that was cut short.
      SpoolFile.execute(from, "PRAGMA writable_schema = ON");
      return from;
    } catch (SQLException e) {
      throw new ReadFault(e);
    }
  }

  /** The old file's fault; one of the new file is an SQLException and ends the rescue. */
  private static final class ReadFault extends Exception {
    private static final long serialVersionUID = 1L;

    ReadFault(SQLException cause) {
      super(cause);
    }
  }

  private void samples() throws SQLException, ReadFault {
    checkTable();
    ranges.add(new Range(1, lastId()));
    try (PreparedStatement insert = to.prepareStatement(SpoolRow.INSERT)) {
      for (int hits = 0; !ranges.isEmpty() && hits < mostHits(); hits++) {
        read(ranges.remove(), insert);
      }
    }
  }

  /** Where not even the table is known, no row of it can be read. */
  private void checkTable() throws ReadFault {
    try {
      from.prepareStatement("SELECT " + SpoolRow.COLUMNS + " FROM sample").close();
    } catch (SQLException e) {
      throw new ReadFault(e);
    }
  }

  private int mostHits() {
    return kept == 0 ? MOST_HITS_FOR_NOTHING : MOST_HITS;
  }

  private void read(Range range, PreparedStatement insert) throws SQLException {
    long first = copy(range, "ASC", insert, range.from() - 1);
    if (first == END) {
      return;
    }
    Range above = new Range(first + 1, range.to());
    long last = copy(above, "DESC", insert, range.to() + 1);
    if (last == END || last - first <= 2) {
      return;
    }
    long middle = first + (last - first) / 2;
    ranges.add(new Range(first + 1, middle));
    ranges.add(new Range(middle + 1, last - 1));
  }

  /** Copies rows up to the first that can't be read; returns the last that could, or END. */
  private long copy(Range range, String order, PreparedStatement insert, long before)
      throws SQLException {
    String sql = "SELECT %s FROM sample WHERE id BETWEEN %d AND %d ORDER BY id %s";
    long last = before;
    // A statement that has failed is not to be used again.
    try (Statement select = statement();
        ResultSet rows =
            rows(select, sql.formatted(SpoolRow.COLUMNS, range.from(), range.to(), order))) {
      for (Optional<Spool.Entry> row = next(rows); row != null; row = next(rows)) {
        if (row.isPresent()) {
          Spool.Entry entry = row.get();
          last = entry.id();
          SpoolRow.bind(insert, entry.id(), entry.sample());
          kept += insert.executeUpdate();
        }
      }
      return END;
    } catch (ReadFault e) {
      return last;
    }
  }

  private Statement statement() throws ReadFault {
    try {
      return from.createStatement();
    } catch (SQLException e) {
      throw new ReadFault(e);
    }
  }

  private static ResultSet rows(Statement select, String sql) throws ReadFault {
    try {
      return select.executeQuery(sql);
    } catch (SQLException e) {
      throw new ReadFault(e);
    }
  }

  /** The next row, empty where it is damaged; null after the last. */
  private static Optional<Spool.Entry> next(ResultSet rows) throws ReadFault {
    try {
      return rows.next() ? SpoolRow.read(rows) : null;
    } catch (SQLException e) {
      throw new ReadFault(e);
    }
  }

  /** Ids are given one after the other, so the number of samples ever is the last of them too. */
  private long lastId() {
    long last = numberOr("SELECT max(id) FROM sample", -1);
    long ever = numberOr("SELECT sum(samples) FROM tracker", -1);
    return last < 0 && ever < 0 ? LARGEST_ID : Math.min(LARGEST_ID, Math.max(last, ever));
  }

  private long numberOr(String sql, long otherwise) {
    try {
      return SpoolFile.number(from, sql);
    } catch (SQLException e) {
      return otherwise;
    }
  }

  /** What is known of trackers and refused samples, as far as it can be read. */
  private void others() throws SQLException {
    copyTable("tracker", 3);
    copyTable("refused", SpoolRow.COUNT + 1);
    SpoolFile.execute(
        to,
        "INSERT INTO tracker SELECT tracker, max(time_us), count(*) FROM sample WHERE true"
            + " GROUP BY tracker ON CONFLICT (tracker) DO UPDATE"
            + " SET newest_us = max(newest_us, excluded.newest_us)");
  }

  private void copyTable(String table, int columns) throws SQLException {
    String values = "?" + ", ?".repeat(columns - 1);
    String sql = "INSERT OR IGNORE INTO " + table + " VALUES (" + values + ")";
    try (PreparedStatement insert = to.prepareStatement(sql)) {
      try (Statement select = from.createStatement();
          ResultSet rows = select.executeQuery("SELECT * FROM " + table)) {
        while (rows.next()) {
          for (int i = 1; i <= columns; i++) {
            insert.setObject(i, rows.getObject(i));
          }
          insert.addBatch();
        }
      } catch (SQLException e) {
        LOG.debug("table {} could be read in part only", table, e);
      }
      insert.executeBatch();
    }
  }
}
