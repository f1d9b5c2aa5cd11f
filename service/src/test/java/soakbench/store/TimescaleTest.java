package soakbench.store;

import static org.assertj.core.api.Assertions.assertThat;

import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import soakbench.live.SoakStore.Unit;

class TimescaleTest {
  @ParameterizedTest
  @CsvSource({
    "2.18.1, 2.18.1, 0",
    "2.9.3, 2.18.1, -1",
    "2.18, 2.18.1, -1",
    "2.22.0, 2.18.1, 1",
    "2.22.0-dev, 2.18.1, 1",
    "3.0.0, 2.18.1, 1"
  })
  void versionsAreComparedByTheirNumbers(String left, String right, int sign) {
    assertThat(Integer.signum(Timescale.compare(left, right))).isEqualTo(sign);
  }

  /** Runs on a given server; says what it found there, hypertables or plain tables. */
  @Test
  void rowsWrittenBeforeTheExtensionCameAreMovedIntoChunks() throws SQLException {
    try (GivenServer server = GivenServer.orSkip()) {
      ServerAddress address = ServerAddress.of(server.settings());
      Schema.migrate(address.dataSource(0), address, false);
      try (Connection connection = address.dataSource(30).getConnection()) {
        connection.setAutoCommit(false);
        SampleWriter.write(connection, Samples.samples("A-1", 0, 1_000));
        connection.commit();
      }
      boolean hypertables = Schema.migrate(address.dataSource(0), address, true);
      assertThat(chunks(address, hypertables)).isEqualTo(hypertables);
      try (Database database = Database.open(server.settings());
          Unit unit = database.soakStore().begin()) {
        assertThat(database.health().hypertables()).isEqualTo(hypertables);
        assertThat(unit.samples("A-1", 0, Long.MAX_VALUE))
            .isEqualTo(Samples.samples("A-1", 0, 1_000));
      }
    }
  }

  private static boolean chunks(ServerAddress address, boolean hypertables) throws SQLException {
    if (!hypertables) {
      return false;
    }
    try (Connection connection = address.dataSource(30).getConnection();
        Statement statement = connection.createStatement()) {
      statement.execute("SET client_min_messages = warning");
      List<Integer> chunks =
          Query.list(
              connection,
              rows -> rows.getInt(1),
              "SELECT num_chunks::int FROM timescaledb_information.hypertables"
                  + " WHERE hypertable_name = 'sample'");
      return chunks.get(0) > 0;
    }
  }
}
