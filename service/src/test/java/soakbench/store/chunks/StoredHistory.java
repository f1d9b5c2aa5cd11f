package soakbench.store.chunks;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Instant;
import soakbench.cli.options.CommandException;
import soakbench.live.watch.SoakRun;
import soakbench.store.Database;
import soakbench.store.server.DatabaseSettings;
import soakbench.store.server.ServerAddress;

/** A history of soaks that the server makes by itself, directly in its tables. */
final class StoredHistory implements AutoCloseable {
  private static final int TRACKERS = 24;
  private static final int RATE_HZ = 5;
  private static final int SOAK_S = 36_000;
  private static final int AHEAD_S = 900;
  private static final int SOAKS_EVERY_S = 2 * 86_400;

  /** Noise of a usual sensor's steps: 0.01 degC, 1/32 deg/s, 1/2048 g, as firmware prints them. */
  private static final String SAMPLES =
      "INSERT INTO sample SELECT timestamptz '%1$s' + n * interval '1 s' / %2$d, n, n * 1000 /"
          + " %2$d, round((30 - 8 * exp(-n / %2$d / 900.0) + random() / 30)::numeric, 2),"
          + " round((random() + random() + random()) * 2) / 32, round((random() + random() +"
          + " random()) * 2) / 32, round((random() + random() + random()) * 2) / 32,"
          + " round((random() + random()) * 4) / 2048, round((random() + random()) * 4) / 2048, 1 +"
          + " round((random() + random()) * 4) / 2048, false, '%3$s' FROM generate_series(0, %4$d)"
          + " n";

  private static final String BINS =
      "INSERT INTO bin SELECT date_trunc('second', time), min(time), max(time), avg(temperature_c),"
          + " stddev(temperature_c), avg(gx_dps), stddev(gx_dps), avg(gy_dps), stddev(gy_dps),"
          + " avg(gz_dps), stddev(gz_dps), avg(ax_g), stddev(ax_g), avg(ay_g), stddev(ay_g),"
          + " avg(az_g), stddev(az_g), 0.01, 0.1, count(*), count(*), count(*), count(*), count(*),"
          + " count(*), count(*), 0, tracker FROM sample WHERE tracker = '%s' AND time >= '%s' AND"
          + " time < '%s' GROUP BY 1, tracker";

  private final Connection connection;
  private final long newestSecond = Instant.now().getEpochSecond() / 86_400 * 86_400 - 86_400;
  private int soaks;

  /** A soak's bins. */
  record Soak(String tracker, long fromSecond, long toSecond) {}

  private StoredHistory(Connection connection) throws SQLException {
    this.connection = connection;
    if (number("SELECT count(*) FROM (SELECT FROM sample LIMIT 1) one") > 0) {
      throw new CommandException("the database has samples; name an empty one");
    }
  }

  static StoredHistory beside(DatabaseSettings settings) throws IOException, SQLException {
    if (!settings.isEmbedded()) {
      return new StoredHistory(ServerAddress.of(settings).dataSource(0).getConnection());
    }
    Path data = settings.dataFolder();
    String url =
        "jdbc:postgresql://127.0.0.1:" + Files.readString(data.resolve("port")) + "/postgres";
    return new StoredHistory(
        DriverManager.getConnection(url, "postgres", Files.readString(data.resolve("password"))));
  }

  long samples() {
    return (long) soaks * SOAK_S * RATE_HZ;
  }

  private Soak soak(int index) {
    long from = newestSecond - (long) (index / TRACKERS) * SOAKS_EVERY_S;
    return new Soak("H-" + index % TRACKERS, from, from + SOAK_S);
  }

  /** One in the middle, so that neither end of an index is what is found. */
  Soak middleSoak() {
    return soak(soaks / 2);
  }

  void growTo(long wanted) throws SQLException {
    while (samples() < wanted) {
      Soak next = soak(soaks++);
      Instant from = Instant.ofEpochSecond(next.fromSecond);
      execute(SAMPLES.formatted(from, RATE_HZ, next.tracker, SOAK_S * RATE_HZ - 1));
      execute(BINS.formatted(next.tracker, from, Instant.ofEpochSecond(next.toSecond)));
      execute(
          "INSERT INTO soak (id, tracker, start_time, end_time, samples, ended) VALUES"
              + " ('%1$s@%2$d', '%1$s', '%3$s', '%4$s', %5$d, 'silence')"
                  .formatted(
                      next.tracker,
                      soaks,
                      from,
                      Instant.ofEpochSecond(next.toSecond - 1),
                      SOAK_S * RATE_HZ));
    }
  }

  /**
   * Soaks of other trackers that go on, so many seconds each. They end a while ahead, or they would
   * have fallen silent until all of them are made.
   */
  void openSoaks(int count, int seconds) throws SQLException {
    long from = Instant.now().getEpochSecond() - seconds + AHEAD_S;
    for (int i = 0; i < count; i++) {
      String tracker = "O-" + i;
      Instant start = Instant.ofEpochSecond(from);
      execute(SAMPLES.formatted(start, RATE_HZ, tracker, seconds * RATE_HZ - 1));
      execute(BINS.formatted(tracker, start, Instant.ofEpochSecond(from + seconds)));
      execute(
          ("INSERT INTO soak (id, tracker, start_time, end_time, samples) VALUES ('%2$s',"
                  + " '%1$s', '%3$s', (SELECT max(time) FROM sample WHERE tracker = '%1$s'), %4$d)")
              .formatted(tracker, SoakRun.id(tracker, from * 1_000_000), start, seconds * RATE_HZ));
    }
  }

  /** How much is derived of soaks. */
  long derived() throws SQLException {
    return number("SELECT count(*) FROM derived");
  }

  int chart(Database database, Soak soak) {
    return database
        .archive()
        .binSpans(
            database.archive().soakAt(soak.tracker, soak.fromSecond * 1_000_000 + 1).orElseThrow(),
            soak.fromSecond,
            soak.toSecond,
            2_000)
        .size();
  }

  void settle() throws SQLException {
    execute("VACUUM ANALYZE sample");
    execute("VACUUM ANALYZE bin");
    execute("CHECKPOINT");
  }

  void compress() throws SQLException {
    execute("SELECT compress_chunk(c) FROM show_chunks('sample') c");
    execute("SELECT compress_chunk(c) FROM show_chunks('bin') c");
  }

  void removeBench() throws SQLException {
    execute("DELETE FROM sample WHERE tracker LIKE 'BENCH%'");
  }

  /** Bytes a row with its key. */
  double bytes(String table) throws SQLException {
    return number("SELECT hypertable_size('" + table + "')")
        / (double) number("SELECT count(*) FROM " + table);
  }

  /** Drops the chunks in which nothing but the simulated rack's samples lies. */
  void dropBench() throws SQLException {
    execute(
        "SELECT drop_chunks('sample', newer_than => timestamptz '%s')"
            .formatted(Instant.ofEpochSecond(newestSecond + 86_400)));
  }

  /** Bytes a row of the chunks in which nothing but the simulated rack's samples lies. */
  double benchBytes() throws SQLException {
    String bytes =
        "SELECT sum(total_bytes) FROM chunks_detailed_size('sample') s JOIN"
            + " timescaledb_information.chunks c USING (chunk_name) WHERE c.range_start >= '%s'";
    return number(bytes.formatted(Instant.ofEpochSecond(newestSecond + 86_400)))
        / (double) number("SELECT count(*) FROM sample WHERE tracker LIKE 'BENCH%'");
  }

  private long number(String sql) throws SQLException {
    try (Statement statement = connection.createStatement();
        ResultSet rows = statement.executeQuery(sql)) {
      rows.next();
      return rows.getLong(1);
    }
  }

  private void execute(String sql) throws SQLException {
    try (Statement statement = connection.createStatement()) {
      statement.execute(sql);
    }
  }

  @Override
  public void close() throws SQLException {
    connection.close();
  }
}
