package soakbench.store.rows;

import static org.assertj.core.api.Assertions.assertThat;

import java.sql.Connection;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;
import soakbench.live.SoakStore.Written;
import soakbench.model.Sample;
import soakbench.store.Samples;
import soakbench.store.SharedServer;
import soakbench.store.connection.Query;
import soakbench.store.server.DatabaseSettings;

/** Which way samples take into the table. */
class BulkWriterTest {
  private static final DatabaseSettings SETTINGS = SharedServer.empty();

  @Test
  void newSamplesGoStraightInAndOnlyAClashTakesTheStagingTable() throws SQLException {
    List<Sample> many = Samples.samples("A-1", 0, 20_000);
    try (Connection connection = begin()) {
      assertThat(SampleWriter.write(connection, many)).isEqualTo(new Written(many, 0, 0));
      assertThat(staged(connection)).isFalse();
      List<Sample> mixed = new ArrayList<>(Samples.samples("A-1", 19_990, 20_010));
      assertThat(SampleWriter.write(connection, mixed))
          .isEqualTo(new Written(mixed.subList(10, 20), 10, 0));
      assertThat(staged(connection)).isTrue();
      assertThat(count(connection, "sample")).isEqualTo(20_010);
      assertThat(count(connection, "staged_sample")).isZero();
    }
  }

  @Test
  void rowsThatComeAgainAreComparedValueByValueAndFoundByTheirKeys() throws SQLException {
    List<Sample> kept = Samples.samples("A-4", 0, 20_000);
    List<Sample> again = new ArrayList<>(kept.subList(15_000, 20_000));
    again.set(7, kept.get(15_007).withTemperatureC(Float.NaN));
    again.set(8, kept.get(15_008).withTemperatureC(99));
    Sample zero = Samples.samples("A-5", 0, 1).get(0).withTemperatureC(0f);
    try (Connection connection = begin()) {
      SampleWriter.write(connection, kept);
      SampleWriter.write(connection, List.of(zero));
      long read = readThrough(connection);
      assertThat(SampleWriter.write(connection, again)).isEqualTo(new Written(List.of(), 4_998, 2));
      assertThat(SampleWriter.write(connection, List.of(zero.withTemperatureC(-0f), zero)))
          .as("a zero is a zero, with or without a sign")
          .isEqualTo(new Written(List.of(), 2, 0));
      assertThat(readThrough(connection)).as("times the whole table was read").isEqualTo(read);
    }
  }

  @Test
  void timesOfTheFirstAndTheLastYearComeBackAsTheyAre() throws SQLException {
    long[] us = {-62_167_219_200_000_000L, -1, 253_402_300_799_999_999L};
    try (Connection connection = begin()) {
      List<Long> back =
          Query.list(
              connection,
              rows -> SqlTimes.us(rows, 1),
              "SELECT * FROM unnest(?)",
              SqlTimes.array(connection, LongStream.of(us)));
      assertThat(back).containsExactly(us[0], us[1], us[2]);
    }
  }

  private static long readThrough(Connection connection) throws SQLException {
    String sql = "SELECT seq_scan FROM pg_stat_xact_user_tables WHERE relname = 'sample'";
    return Query.list(connection, rows -> rows.getLong(1), sql).get(0);
  }

  @Test
  void lookingForWhatIsStoredLeavesNoLockOnIt() throws SQLException {
    DatabaseSettings settings = SharedServer.empty();
    List<Sample> kept = Samples.samples("A-6", 0, 100);
    try (Connection connection = SharedServer.connect(settings)) {
      connection.setAutoCommit(false);
      SampleWriter.write(connection, kept);
      connection.commit();
      BulkWriter<Sample> writer = new BulkWriter<>(connection, SampleLayout.INSTANCE);
      assertThat(writer.isStored(kept.get(3))).isTrue();
      assertThat(readLocks(connection)).isZero();
      assertThat(writer.writeNew(kept, SampleLayout.INSTANCE::read)).hasSize(100);
      assertThat(readLocks(connection)).isZero();
      connection.rollback();
    }
  }

  /** On the key of the samples or, where there is TimescaleDB, of their chunks. */
  private static int readLocks(Connection connection) throws SQLException {
    return count(
        connection,
        "pg_locks WHERE pid = pg_backend_pid() AND mode = 'AccessShareLock'"
            + " AND relation::regclass::text LIKE '%sample_pkey%'");
  }

  @Test
  void absentValuesAreStoredAsNull() throws SQLException {
    float nan = Float.NaN;
    Sample bare = new Sample("A-2", 0, nan, false, 1, 2, 3, nan, nan, nan, -1, -1);
    try (Connection connection = begin()) {
      SampleWriter.write(connection, List.of(bare));
      assertThat(
              Query.list(
                  connection,
                  rows -> rows.getInt(1),
                  "SELECT num_nulls(temperature_c, ax_g, ay_g, az_g, seq, t_ms) FROM sample"))
          .containsExactly(6);
    }
  }

  @Test
  void theTimeInTheTableIsTheTimeOfTheSample() throws SQLException {
    try (Connection connection = begin()) {
      SampleWriter.write(connection, Samples.samples("A-3", 0, 1));
      assertThat(Query.list(connection, rows -> rows.getString(1), "SELECT time::text FROM sample"))
          .containsExactly("2026-03-01 08:00:06.453127+00");
    }
  }

  private static Connection begin() throws SQLException {
    Connection connection = SharedServer.connect(SETTINGS);
    connection.setAutoCommit(false);
    Query.change(connection, "SET LOCAL TIME ZONE 'UTC'");
    return connection;
  }

  private static boolean staged(Connection connection) throws SQLException {
    String sql = "SELECT to_regclass('pg_temp.staged_sample') IS NOT NULL";
    return Query.list(connection, rows -> rows.getBoolean(1), sql).get(0);
  }

  private static int count(Connection connection, String table) throws SQLException {
    return Query.list(connection, rows -> rows.getInt(1), "SELECT count(*) FROM " + table).get(0);
  }
}
