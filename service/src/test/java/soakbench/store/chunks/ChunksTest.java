package soakbench.store.chunks;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import java.sql.SQLException;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import soakbench.live.SoakStore.Unit;
import soakbench.live.SoakStore.Written;
import soakbench.model.BinSpan;
import soakbench.model.RackSet;
import soakbench.model.Sample;
import soakbench.store.Database;
import soakbench.store.Samples;
import soakbench.store.connection.DatabaseHealth;
import soakbench.store.connection.Pools;
import soakbench.store.connection.Schema;
import soakbench.store.connection.WriterLock;
import soakbench.store.server.ChunkSettings;

/** What TimescaleDB does with samples and bins, on a given server that has it. */
@Timeout(180)
class ChunksTest {
  private static final long HOUR_S = 3_600;

  /** Two days of a second in ten; temperatures that sum without rounding. */
  private static final String BINS =
      "INSERT INTO bin (time, first_time, last_time, temperature_mean_c, gx_mean_dps, gx_sd_dps,"
          + " temperature_count, gx_count, gy_count, gz_count, ax_count, ay_count, az_count, boot,"
          + " tracker) SELECT t, t, t, n %% 64 / 4.0, n %% 8 / 2.0, n %% 5, 1, 1, 0, 0, 0, 0, 0, n"
          + " / 9000, 'A-1' FROM (SELECT n, timestamptz '2026-03-01 00:00:07Z' + n * interval '10"
          + " s' AS t FROM generate_series(0, %d) n) s ORDER BY t";

  private ChunkedServer server;

  @BeforeEach
  void take() throws SQLException {
    server = ChunkedServer.orSkip();
  }

  @AfterEach
  void drop() throws SQLException {
    if (server != null) {
      server.close();
    }
  }

  private static List<String> history(Database database, int points) {
    return database.archive().history("A-1", 0, 4_102_444_800L, points).stream()
        .map(ChunksTest::words)
        .toList();
  }

  private static String words(BinSpan s) {
    return "%d-%d %d %d %s %s %s"
        .formatted(
            s.fromSecond(),
            s.endSecond(),
            s.seconds(),
            s.boot(),
            s.temperatureC(),
            s.gyroDps()[0],
            s.gyroSdDps());
  }

  private void refreshMinutes() throws SQLException {
    long job =
        server.one(
            "SELECT job_id FROM timescaledb_information.jobs"
                + " WHERE proc_name = 'policy_refresh_continuous_aggregate'");
    server.execute("CALL run_job(" + job + ")");
  }

  @Test
  void minutesSayWhatTheirBinsSayAlsoOfLateOnesOnceTheyAreRefreshed() throws SQLException {
    server.skipWithoutCommunityLicence();
    try (Database database = Database.open(server.settings())) {
      server.execute(BINS.formatted(17_279));
      List<List<String>> before = Stream.of(7, 100, 10_000).map(n -> history(database, n)).toList();
      assertThat(before.get(2)).hasSize(2 * 24 * 60);
      refreshMinutes();
      assertThat(server.one("SELECT count(*) FROM " + materialized())).isEqualTo(2 * 24 * 60);
      assertThat(Stream.of(7, 100, 10_000).map(n -> history(database, n)).toList())
          .isEqualTo(before);
      server.execute("UPDATE bin SET temperature_mean_c = 99 WHERE time = '2026-03-01 12:00:07Z'");
      refreshMinutes();
      assertThat(
              database.archive().history("A-1", 0, 4_102_444_800L, 2).get(0).temperatureC().high())
          .isEqualTo(99);
      server.execute("DROP MATERIALIZED VIEW bin_minute");
      server.execute("UPDATE bin SET temperature_mean_c = 8 WHERE time = '2026-03-01 12:00:07Z'");
      assertThat(history(database, 100)).isEqualTo(before.get(1));
    }
  }

  private String materialized() throws SQLException {
    return server
        .list(
            r -> r.getString(1),
            "SELECT format('%I.%I', materialization_hypertable_schema,"
                + " materialization_hypertable_name)"
                + " FROM timescaledb_information.continuous_aggregates")
        .get(0);
  }

  private static Written write(Database database, List<Sample> samples) {
    try (Unit unit = database.soakStore().begin()) {
      Written written = unit.writeSamples(samples);
      unit.commit();
      return written;
    }
  }

  @Test
  void samplesThatComeLateOrAgainIntoCompressedChunksAreStoredOnce() throws SQLException {
    server.skipWithoutCommunityLicence();
    try (Database database = Database.open(server.settings())) {
      List<Sample> all = Samples.samples("A-1", 0, 20_000);
      List<Sample> early = new ArrayList<>(all.subList(0, 5_000));
      early.addAll(all.subList(6_000, 20_000));
      write(database, early);
      server.execute("SELECT compress_chunk(c) FROM show_chunks('sample') c");
      assertThat(write(database, all.subList(1_000, 3_000)).duplicate()).isEqualTo(2_000);
      Written mixed = write(database, all.subList(4_000, 7_000));
      assertThat(mixed.fresh()).isEqualTo(all.subList(5_000, 6_000));
      assertThat(mixed.duplicate()).isEqualTo(2_000);
      try (Unit unit = database.soakStore().beginReading()) {
        assertThat(unit.samples("A-1", 0, Long.MAX_VALUE)).isEqualTo(all);
      }
    }
  }

  @Test
  void aSoakOfThreeWeeksOfCompressedBinsIsReplacedAtOnce() throws SQLException {
    server.skipWithoutCommunityLicence();
    try (Database database = Database.open(server.settings())) {
      server.execute(BINS.formatted(181_439), "SELECT compress_chunk(c) FROM show_chunks('bin') c");
      try (Unit unit = database.soakStore().begin()) {
        unit.deleteBins("A-1", 0, 4_102_444_800L);
        unit.commit();
      }
      assertThat(server.one("SELECT count(*) FROM bin")).isZero();
    }
  }

  @Test
  void chunksAreDroppedOnlyWhenAReaderOfThemIsThrough() throws Exception {
    try (Database database = Database.open(server.settings())) {
      write(database, Samples.samples("A-1", 0, 30_000));
      Semaphore reads = new Semaphore(0);
      Semaphore goes = new Semaphore(0);
      List<Sample> read = new ArrayList<>();
      CompletableFuture<Void> reader =
          CompletableFuture.runAsync(
              () ->
                  database
                      .archive()
                      .samples(
                          "A-1",
                          0,
                          Long.MAX_VALUE,
                          s -> {
                            read.add(s);
                            if (read.size() == 10) {
                              reads.release();
                              goes.acquireUninterruptibly();
                            }
                          }));
      assertThat(reads.tryAcquire(30, TimeUnit.SECONDS)).isTrue();
      String drop = "SELECT drop_chunks('sample', older_than => timestamptz '2026-04-01')";
      assertThatThrownBy(() -> server.execute("SET lock_timeout = '300ms'", drop))
          .hasMessageContaining("lock timeout");
      goes.release();
      reader.get(60, TimeUnit.SECONDS);
      assertThat(read).hasSize(30_000);
      server.execute(drop);
      assertThat(server.one("SELECT count(*) FROM sample")).isZero();
    }
  }

  @Test
  void twoProgramsMayBringTheTablesUpToDateAndMoveRowsAtOnce() throws Exception {
    server.makePlainTables();
    server.execute(
        "INSERT INTO sample SELECT timestamptz '2026-03-01' + n * interval '1 min', n, NULL, 20, 0,"
            + " 0, 0, 0, 0, 1, false, 'A-' || n % 3 FROM generate_series(1, 30000) n",
        "CREATE TABLE copied AS TABLE sample");
    try (WriterLock lock = new WriterLock(server.address(), RackSet.ALL)) {
      assertThat(lock.tryTake()).isTrue();
      List<CompletableFuture<Void>> both =
          Stream.of(1, 2).map(n -> CompletableFuture.runAsync(() -> bringUp(lock))).toList();
      for (CompletableFuture<Void> one : both) {
        one.get(120, TimeUnit.SECONDS);
      }
    }
    assertThat(server.one("SELECT count(*) FROM (TABLE sample EXCEPT ALL TABLE copied) x"))
        .isZero();
    assertThat(server.one("SELECT count(*) FROM sample")).isEqualTo(30_000);
    assertThat(
            server.one("SELECT count(*) - count(DISTINCT version) FROM flyway_timescale_history"))
        .isZero();
  }

  private void bringUp(WriterLock lock) {
    try (Pools pools = new Pools();
        Chunks chunks = new Chunks(pools)) {
      Schema.migrate(server.address().dataSource(0), server.address(), true);
      pools.open(server.address(), lock);
      chunks.start(server.address(), ChunkSettings.USUAL);
      await()
          .atMost(Duration.ofSeconds(90))
          .until(
              () ->
                  server.one(
                          "SELECT count(*) FROM timescaledb_information.hypertables"
                              + " WHERE hypertable_name IN ('sample', 'bin')")
                      == 2);
    }
  }

  @Test
  void whatTheServersLicenceDoesNotAllowIsLeftAwayAndTheRestIsInUse() throws SQLException {
    boolean community = server.isCommunity();
    try (Database database = Database.open(server.settings())) {
      DatabaseHealth health = database.health();
      assertThat(health.hypertables()).isTrue();
      assertThat(health.compression()).isEqualTo(community);
      assertThat(health.minuteMeans()).isEqualTo(community);
      server.execute(BINS.formatted(99));
      assertThat(history(database, 10_000)).hasSize(17);
    }
  }

  @Test
  void chunkLengthAndAgeOfCompressionFollowTheOptionsOfEachStart() throws SQLException {
    server.skipWithoutCommunityLicence();
    Database.open(server.settings()).close();
    Database.open(server.settings().with(new ChunkSettings(6, 90))).close();
    assertThat(
            server.list(
                r -> r.getString(1),
                "SELECT (extract(epoch FROM time_interval) / ?)::int::text FROM"
                    + " timescaledb_information.dimensions WHERE hypertable_name IN ('sample',"
                    + " 'bin') ORDER BY hypertable_name",
                HOUR_S))
        .containsExactly("42", "6");
    assertThat(
            server.list(
                r -> r.getString(1),
                "SELECT DISTINCT config->>'compress_after' FROM timescaledb_information.jobs"
                    + " WHERE proc_name = 'policy_compression'"))
        .containsExactly("90 days");
  }
}
