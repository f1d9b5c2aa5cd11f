package soakbench.ingest.spool;

import java.io.IOException;
import java.io.InputStream;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.sqlite.SQLiteConfig;
import org.sqlite.SQLiteConfig.JournalMode;
import org.sqlite.SQLiteConfig.SynchronousMode;

/** The spool's file: its tables, and whether it is whole. */
final class SpoolFile {
  /** Written into the file's header, so that it is known for ours: "SoaK" as a number. */
  static final int APPLICATION_ID = 0x536f614b;

  /** Rises when the tables change. */
  static final int VERSION = 1;

  private static final String SAMPLE =
      "(id INTEGER PRIMARY KEY, tracker TEXT NOT NULL, time_us INTEGER NOT NULL,"
          + " temperature_c REAL, temperature_held INTEGER NOT NULL, gx_dps REAL, gy_dps REAL,"
          + " gz_dps REAL, ax_g REAL, ay_g REAL, az_g REAL, seq INTEGER NOT NULL,"
          + " t_ms INTEGER NOT NULL, crc INTEGER NOT NULL";

  private static final List<String> TABLES =
      List.of(
          "CREATE TABLE sample " + SAMPLE + ")",
          "CREATE TABLE refused " + SAMPLE + ", reason TEXT NOT NULL)",
          "CREATE TABLE tracker (tracker TEXT PRIMARY KEY, newest_us INTEGER NOT NULL,"
              + " samples INTEGER NOT NULL) WITHOUT ROWID");

  private static final byte[] MAGIC = "SQLite format 3\0".getBytes(StandardCharsets.US_ASCII);
  private static final int HEADER_BYTES = 100;
  private static final int APPLICATION_ID_AT = 68;
  private static final int MOST_BITS_WRONG = 8;
  private static final int READERS_WAIT_MS = 5000;
  private static final int LONGEST_WAL_BYTES = 16 << 20;

  private SpoolFile() {}

  /** Connects; a file that is missing or empty becomes a spool. */
  static Connection connect(Path file) throws SQLException {
    SQLiteConfig config = new SQLiteConfig();
    config.setJournalMode(JournalMode.WAL);
    config.setSynchronous(SynchronousMode.FULL);
    config.setJournalSizeLimit(LONGEST_WAL_BYTES);
    // Others may look at the file while it is in use.
    config.setBusyTimeout(READERS_WAIT_MS);
    Connection connection = config.createConnection("jdbc:sqlite:" + file.toAbsolutePath());
    try {
      if (number(connection, "SELECT count(*) FROM sqlite_schema") == 0) {
        create(connection);
      }
      return connection;
    } catch (SQLException e) {
      connection.close();
      throw e;
    }
  }

  private static void create(Connection connection) throws SQLException {
    try (Statement statement = connection.createStatement()) {
      statement.execute("BEGIN");
      statement.execute("PRAGMA application_id = " + APPLICATION_ID);
      statement.execute("PRAGMA user_version = " + VERSION);
      for (String table : TABLES) {
        statement.execute(table);
      }
      statement.execute("COMMIT");
    }
  }

  /**
   * What is wrong with an open file, in words that fit after "as it"; empty where nothing is.
   *
   * @throws SQLException also where it may only be read
   */
  static Optional<String> fault(Connection connection) throws SQLException {
    long version = number(connection, "PRAGMA user_version");
    if (version != VERSION) {
      return Optional.of("is of version " + version + " where this program writes " + VERSION);
    }
    if (!texts(connection, "SELECT sql FROM sqlite_schema WHERE sql IS NOT NULL").equals(TABLES)) {
      return Optional.of("is damaged: its tables are not as they were made");
    }
    execute(connection, "BEGIN IMMEDIATE");
    execute(connection, "ROLLBACK");
    String found = String.join("; ", texts(connection, "PRAGMA quick_check(1)"));
    return found.equals("ok") ? Optional.empty() : Optional.of("is damaged: " + oneLine(found));
  }

  /** Whether a file that SQLite takes for read-only is not: its header says so wrongly. */
  static boolean isOnlySaidReadOnly(Path file) {
    return Files.isWritable(file) && Files.isWritable(file.toAbsolutePath().getParent());
  }

  private static String oneLine(String found) {
    return found.replaceAll("\\*\\*\\*.*?\\*\\*\\*", "").strip().replaceAll("\\s*\n\\s*", "; ");
  }

  /**
   * Whether a file is plainly something else, which must not be moved out of the way: a database of
   * another program, or a text. A spool whose first bytes are damaged is neither.
   */
  static boolean isForeign(Path file) throws IOException {
    byte[] head;
    try (InputStream in = Files.newInputStream(file)) {
      head = in.readNBytes(HEADER_BYTES);
    }
    boolean database =
        head.length == HEADER_BYTES && Arrays.equals(head, 0, MAGIC.length, MAGIC, 0, MAGIC.length);
    if (!database) {
      return isText(head);
    }
    // A spool whose making was cut off has its number in the log of changes only.
    int id = ByteBuffer.wrap(head).getInt(APPLICATION_ID_AT);
    boolean log = Files.exists(file.resolveSibling(file.getFileName() + "-wal"));
    return isForeign(id) && !(id == 0 && log);
  }

  private static boolean isForeign(int applicationId) {
    return Integer.bitCount(applicationId ^ APPLICATION_ID) > MOST_BITS_WRONG;
  }

  /** The same of a file that is open, so that its log of changes counts. */
  static boolean isForeign(Connection connection) throws SQLException {
    return isForeign((int) number(connection, "PRAGMA application_id"));
  }

  private static boolean isText(byte[] head) {
    for (byte b : head) {
      if (b >= 0 && b < ' ' && b != '\n' && b != '\r' && b != '\t') {
        return false;
      }
    }
    return head.length > 0;
  }

  static long number(Connection connection, String sql) throws SQLException {
    try (Statement statement = connection.createStatement();
        ResultSet rows = statement.executeQuery(sql)) {
      return rows.next() ? rows.getLong(1) : 0;
    }
  }

  private static List<String> texts(Connection connection, String sql) throws SQLException {
    List<String> texts = new ArrayList<>();
    try (Statement statement = connection.createStatement();
        ResultSet rows = statement.executeQuery(sql)) {
      while (rows.next()) {
        texts.add(rows.getString(1));
      }
    }
    return texts;
  }

  static void execute(Connection connection, String sql) throws SQLException {
    try (Statement statement = connection.createStatement()) {
      statement.execute(sql);
    }
  }
}
