package soakbench.ingest.spool;

import static org.assertj.core.api.Assertions.assertThat;

import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.Optional;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.ingest.spool.Spool.Entry;
import soakbench.model.Sample;

/** Rows in a database in memory. */
class SpoolRowTest {
  private static final float NAN = Float.NaN;
  private static final Sample SAMPLE =
      new Sample(
          "T-\u00e91",
          1_772_352_000_000_001L,
          24.31f,
          true,
          0.31f,
          -1e-38f,
          3999.9f,
          0.5f,
          -64,
          1,
          9_007_199_254_740_992L,
          4_294_967_295L);

  private Connection database;

  @BeforeEach
  void begin() throws SQLException {
    database = DriverManager.getConnection("jdbc:sqlite::memory:");
    execute("CREATE TABLE sample (" + SpoolRow.COLUMNS + ", UNIQUE (tracker, time_us))");
  }

  @AfterEach
  void end() throws SQLException {
    database.close();
  }

  private void execute(String sql) throws SQLException {
    try (Statement statement = database.createStatement()) {
      assertThat(statement.executeUpdate(sql)).as(sql).isLessThanOrEqualTo(1);
    }
  }

  private void insert(long id, Sample sample) throws SQLException {
    try (PreparedStatement insert = database.prepareStatement(SpoolRow.INSERT)) {
      SpoolRow.bind(insert, id, sample);
      insert.executeUpdate();
    }
  }

  private Optional<Entry> read(long id) throws SQLException {
    try (Statement select = database.createStatement();
        ResultSet row =
            select.executeQuery("SELECT " + SpoolRow.COLUMNS + " FROM sample WHERE id = " + id)) {
      assertThat(row.next()).isTrue();
      return SpoolRow.read(row);
    }
  }

  @Test
  void allValuesComeBack() throws SQLException {
    insert(7, SAMPLE);
    assertThat(read(7)).contains(new Entry(7, SAMPLE));
  }

  @Test
  void whatASampleLacksItStillLacks() throws SQLException {
    Sample bare = new Sample("T-1", -5, NAN, false, NAN, NAN, NAN, NAN, NAN, NAN, -1, -1);
    insert(1, bare);
    assertThat(read(1)).contains(new Entry(1, bare));
  }

  @Test
  void aZeroMayLoseItsSignAndIsWholeAllTheSame() throws SQLException {
    insert(1, SAMPLE.withTemperatureC(-0f));
    assertThat(read(1).orElseThrow().sample().temperatureC() + 0f).isZero();
  }

  @Test
  void aRowOfTheSameTrackerAndTimeIsNotTakenTwice() throws SQLException {
    insert(1, SAMPLE);
    insert(2, SAMPLE.withTemperatureC(99));
    assertThat(read(1).orElseThrow().sample().temperatureC()).isEqualTo(24.31f);
    execute("DELETE FROM sample WHERE id = 2");
    execute("UPDATE sample SET id = 2 WHERE id = 1");
    assertThat(read(2)).isEmpty();
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "tracker = 'T-e1'",
        "tracker = NULL",
        "time_us = time_us + 1",
        "temperature_c = 24.310001",
        "temperature_c = NULL",
        "temperature_held = 0",
        "gx_dps = -gx_dps",
        "gy_dps = 0",
        "gz_dps = gx_dps",
        "ax_g = 0.25",
        "ay_g = NULL",
        "az_g = 2",
        "seq = seq - 1",
        "t_ms = -1",
        "crc = crc + 1",
        "gx_dps = az_g, az_g = gx_dps"
      })
  void aRowThatIsNotWhatWasWrittenIsNone(String change) throws SQLException {
    insert(1, SAMPLE);
    execute("UPDATE sample SET " + change);
    assertThat(read(1)).isEmpty();
  }

  @Test
  void thereAreAsManyParametersAsColumns() {
    assertThat(SpoolRow.COLUMNS.split(",")).hasSize(SpoolRow.COUNT);
    assertThat(SpoolRow.PARAMETERS.split(",")).hasSize(SpoolRow.COUNT);
  }
}
