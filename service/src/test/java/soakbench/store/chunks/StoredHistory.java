package soakbench.store.chunks;

import java.io.IOException;
import java.io.OutputStream;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.postgresql.PGConnection;
import org.postgresql.copy.CopyManager;
import soakbench.bench.TextCopy;
import soakbench.cli.options.CommandException;
import soakbench.live.SoakStore;
import soakbench.live.watch.OpenBin;
import soakbench.live.watch.SoakRun;
import soakbench.model.Bin;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.model.Soak.End;
import soakbench.store.Database;
import soakbench.store.server.DatabaseSettings;

/**
 * A history of soaks of ten hours at five lines a second of 24 trackers, every other day: stored as
 * a service stores them, all samples of a soak in one COPY, but judged by nobody.
 */
final class StoredHistory implements AutoCloseable {
  private static final int TRACKERS = 24;
  private static final int RATE_HZ = 5;
  private static final int SOAK_S = 36_000;
  private static final int AHEAD_S = 900;
  private static final int SOAKS_EVERY_S = 2 * 86_400;
  private static final long US_PER_S = 1_000_000;

  private final SplittableRandom random = new SplittableRandom(1);
  private final Connection connection;
  private final long newestSecond = Instant.now().getEpochSecond() / 86_400 * 86_400 - 86_400;
  private int soaks;

  private StoredHistory(Connection connection) throws SQLException {
    this.connection = connection;
    if (number("SELECT count(*) FROM (SELECT FROM sample LIMIT 1) one") > 0) {
      throw new CommandException("the database has samples; name an empty one");
    }
  }

  static StoredHistory beside(DatabaseSettings settings) throws IOException, SQLException {
    return new StoredHistory(TextCopy.connect(settings));
  }

  long samples() {
    return (long) soaks * SOAK_S * RATE_HZ;
  }

  private long fromSecond(int index) {
    return newestSecond - (long) (index / TRACKERS) * SOAKS_EVERY_S;
  }

  /** One in the middle, so that neither end of an index is what is found. */
  Soak middleSoak() {
    return soak("H-" + soaks / 2 % TRACKERS, fromSecond(soaks / 2), SOAK_S, End.SILENCE);
  }

  /** Adds soaks until so many samples are there. */
  void growTo(Database database, long wanted) {
    for (; samples() < wanted; soaks++) {
      String tracker = "H-" + soaks % TRACKERS;
      store(database, soak(tracker, fromSecond(soaks), SOAK_S, End.SILENCE));
    }
  }

  /**
   * Soaks of other trackers that go on, so many seconds each. They end a while ahead, or they would
   * have fallen silent until all of them are made.
   */
  void openSoaks(Database database, int count, int seconds) {
    long fromSecond = Instant.now().getEpochSecond() - seconds + AHEAD_S;
    for (int i = 0; i < count; i++) {
      store(database, soak("O-" + i, fromSecond, seconds, null));
    }
  }

  private static Soak soak(String tracker, long fromSecond, int seconds, End ended) {
    long startUs = fromSecond * US_PER_S;
    long samples = (long) seconds * RATE_HZ;
    long endUs = startUs + (samples - 1) * US_PER_S / RATE_HZ;
    return new Soak(SoakRun.id(tracker, startUs), tracker, startUs, endUs, samples, ended);
  }

  private void store(Database database, Soak soak) {
    List<Sample> samples = new ArrayList<>();
    List<Bin> bins = new ArrayList<>();
    for (long second = soak.startSecond(); second <= soak.endSecond(); second++) {
      OpenBin bin = new OpenBin(soak.tracker(), second);
      for (int i = 0; i < RATE_HZ; i++) {
        Sample sample =
            sample(soak.tracker(), samples.size(), second * US_PER_S + i * US_PER_S / RATE_HZ);
        samples.add(sample);
        bin.add(sample);
      }
      bins.add(bin.close(0));
    }
    try (SoakStore.Unit unit = database.soakStore().begin()) {
      unit.writeSamples(samples);
      unit.writeBins(bins);
      unit.writeSoak(soak);
      unit.commit();
    }
  }

  /** Noise of a usual sensor's steps: 0.01 degC, 1/32 deg/s, 1/2048 g, as firmware prints them. */
  private Sample sample(String tracker, int n, long timeUs) {
    double warm = 30 - 8 * Math.exp(-n / (double) RATE_HZ / 900);
    return new Sample(
        tracker,
        timeUs,
        Math.round((warm + random.nextDouble() / 30) * 100) / 100f,
        false,
        steps(3, 2) / 32,
        steps(3, 2) / 32,
        steps(3, 2) / 32,
        steps(2, 4) / 2048,
        steps(2, 4) / 2048,
        1 + steps(2, 4) / 2048,
        n,
        n * 1000L / RATE_HZ);
  }

  /** So many random numbers of up to so many, added up. */
  private float steps(int count, int each) {
    double sum = 0;
    for (int i = 0; i < count; i++) {
      sum += random.nextDouble();
    }
    return Math.round(sum * each);
  }

  /** How much is derived of soaks. */
  long derived() throws SQLException {
    return number("SELECT count(*) FROM derived");
  }

  /** Hands over all of a soak's bins as text: what no reading of them can do without. */
  void copyBins(Soak soak) {
    String copy =
        "COPY (SELECT * FROM bin WHERE tracker = '%s' AND time >= '%s' AND time < '%s' ORDER BY"
            + " time) TO STDOUT";
    try {
      CopyManager copies = connection.unwrap(PGConnection.class).getCopyAPI();
      copies.copyOut(
          copy.formatted(
              soak.tracker(),
              Instant.ofEpochSecond(soak.startSecond()),
              Instant.ofEpochSecond(soak.endSecond() + 1)),
          OutputStream.nullOutputStream());
    } catch (SQLException | IOException e) {
      throw new CommandException("the bins of " + soak.id() + " can't be copied: " + e);
    }
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
