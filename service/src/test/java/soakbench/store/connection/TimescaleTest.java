package soakbench.store.connection;

import static org.assertj.core.api.Assertions.assertThat;

import java.sql.Connection;
import java.sql.SQLException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import soakbench.live.SoakStore.Unit;
import soakbench.store.Database;
import soakbench.store.Samples;
import soakbench.store.rows.SampleWriter;
import soakbench.store.server.DatabaseSettings;
import soakbench.store.server.GivenServer;
import soakbench.store.server.ServerAddress;

class TimescaleTest {
  private static final String AVAILABLE = "pg_available_extensions WHERE name = 'timescaledb'";

  private static final String HYPERTABLES = "timescaledb_information.hypertables";

  private static final String CHUNKS =
      "timescaledb_information.chunks WHERE hypertable_name = 'sample'";

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

  @Test
  void rowsWrittenBeforeTheExtensionCameAreMovedIntoChunks() throws SQLException {
    try (GivenServer server = GivenServer.orSkip()) {
      ServerAddress address = ServerAddress.of(server.settings());
      Schema.migrate(address.dataSource(0), address, false);
      writeThousand(address);
      boolean expected = count(address, AVAILABLE) > 0;
      assertThat(Schema.migrate(address.dataSource(0), address, true)).isEqualTo(expected);
      if (expected) {
        assertThat(count(address, HYPERTABLES)).isEqualTo(2);
        assertThat(count(address, CHUNKS)).isGreaterThanOrEqualTo(1);
      }
      assertThousandAreThere(server.settings(), expected);
    }
  }

  private static void writeThousand(ServerAddress address) throws SQLException {
    try (Connection connection = address.dataSource(30).getConnection()) {
      connection.setAutoCommit(false);
      SampleWriter.write(connection, Samples.samples("A-1", 0, 1_000));
      connection.commit();
    }
  }

  private static void assertThousandAreThere(DatabaseSettings settings, boolean hypertables) {
    try (Database database = Database.open(settings);
        Unit unit = database.soakStore().begin()) {
      assertThat(database.health().hypertables()).isEqualTo(hypertables);
      assertThat(unit.samples("A-1", 0, Long.MAX_VALUE))
          .isEqualTo(Samples.samples("A-1", 0, 1_000));
    }
  }

  private static int count(ServerAddress address, String from) throws SQLException {
    try (Connection connection = address.dataSource(30).getConnection()) {
      return Query.list(connection, rows -> rows.getInt(1), "SELECT count(*) FROM " + from).get(0);
    }
  }
}
