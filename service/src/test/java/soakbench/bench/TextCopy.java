package soakbench.bench;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Instant;
import java.util.List;
import org.postgresql.PGConnection;
import soakbench.cli.options.CommandException;
import soakbench.model.Sample;
import soakbench.store.server.DatabaseSettings;
import soakbench.store.server.ServerAddress;

/**
 * What the store is measured against: PostgreSQL's COPY in its text form, over the same driver and
 * server, into a table with the same columns and the same key. The text is made beforehand.
 */
public final class TextCopy implements AutoCloseable {
  private static final String COLUMNS =
      "time, seq, t_ms, temperature_c, gx_dps, gy_dps, gz_dps, ax_g, ay_g, az_g,"
          + " temperature_held, tracker";

  private final Connection connection;

  private TextCopy(Connection connection) throws SQLException {
    this.connection = connection;
    if (count("(SELECT FROM sample LIMIT 1) s") > 0 || count("soak") > 0) {
      throw new CommandException(
          "the database has samples or soaks, and this empties its tables; name an empty one");
    }
    execute("DROP TABLE IF EXISTS copied");
    execute("CREATE TABLE copied (LIKE sample INCLUDING ALL)");
  }

  /**
   * Beside a store that is open.
   *
   * @throws CommandException if something is stored in it
   */
  static TextCopy beside(DatabaseSettings settings) throws IOException, SQLException {
    return new TextCopy(connect(settings));
  }

  /** Goes to a given server, or to our own that runs on a folder. */
  public static Connection connect(DatabaseSettings settings) throws IOException, SQLException {
    if (!settings.isEmbedded()) {
      return ServerAddress.of(settings).dataSource(0).getConnection();
    }
    Path data = settings.dataFolder();
    return DriverManager.getConnection(
        "jdbc:postgresql://127.0.0.1:" + Files.readString(data.resolve("port")) + "/postgres",
        "postgres",
        Files.readString(data.resolve("password")));
  }

  static byte[] text(List<Sample> batch) {
    StringBuilder text = new StringBuilder();
    for (Sample s : batch) {
      long us = s.timeUs();
      text.append(Instant.ofEpochSecond(Math.floorDiv(us, 1_000_000L), us % 1_000_000L * 1000));
      counter(text, s.seq());
      counter(text, s.tMs());
      for (float value :
          new float[] {
            s.temperatureC(), s.gxDps(), s.gyDps(), s.gzDps(), s.axG(), s.ayG(), s.azG()
          }) {
        text.append('\t').append(Float.isNaN(value) ? "\\N" : Float.toString(value));
      }
      text.append('\t').append(s.temperatureHeld() ? 't' : 'f');
      text.append('\t').append(s.tracker()).append('\n');
    }
    return text.toString().getBytes(StandardCharsets.UTF_8);
  }

  private static void counter(StringBuilder text, long value) {
    text.append('\t').append(value == -1 ? "\\N" : Long.toString(value));
  }

  /** Copies one batch and commits it. */
  void copy(byte[] text) throws SQLException, IOException {
    connection
        .unwrap(PGConnection.class)
        .getCopyAPI()
        .copyIn("COPY copied (" + COLUMNS + ") FROM STDIN", new ByteArrayInputStream(text));
  }

  /** Empties the tables of samples and of what follows from them. */
  void empty() throws SQLException {
    execute(
        "TRUNCATE copied, sample, sample_aside, bin, soak, soak_terms, timeline, stale, derived,"
            + " kept_judge");
  }

  /**
   * Has the server write out what it owes the disk, so that what comes next does not pay for it.
   */
  void settle() throws SQLException {
    execute("CHECKPOINT");
  }

  /** How many rows are in one of {@code sample} and {@code copied} and not, so, in the other. */
  long differences() throws SQLException {
    return count(
        "((TABLE sample EXCEPT ALL TABLE copied)"
            + " UNION ALL (TABLE copied EXCEPT ALL TABLE sample)) each");
  }

  private long count(String from) throws SQLException {
    return one("SELECT count(*) FROM " + from);
  }

  /** The first column of the first row that a query finds. */
  long one(String sql) throws SQLException {
    try (Statement statement = connection.createStatement();
        ResultSet rows = statement.executeQuery(sql)) {
      rows.next();
      return rows.getLong(1);
    }
  }

  /** Compresses all samples that are stored. */
  void compress() throws SQLException {
    execute("SELECT compress_chunk(c) FROM show_chunks('sample') c");
  }

  /** Bytes of table, key and all of what compression made of it, a sample. */
  double bytesPerSample(boolean hypertable) throws SQLException {
    String size = hypertable ? "hypertable_size('sample')" : "pg_total_relation_size('sample')";
    return one("SELECT " + size) / (double) one("SELECT count(*) FROM sample");
  }

  private void execute(String sql) throws SQLException {
    try (Statement statement = connection.createStatement()) {
      statement.execute(sql);
    }
  }

  @Override
  public void close() throws SQLException {
    empty();
    execute("DROP TABLE copied");
    connection.close();
  }
}
