package soakbench.store;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.testcontainers.junit.jupiter.Container;
import org.testcontainers.junit.jupiter.Testcontainers;
import org.testcontainers.postgresql.PostgreSQLContainer;
import org.testcontainers.utility.DockerImageName;
import soakbench.live.SoakStore;
import soakbench.live.SoakStoreContract;
import soakbench.store.server.DatabaseSettings;

/** The contract on TimescaleDB, where Docker is. */
@ExtendWith(DockerNotice.class)
@Testcontainers(disabledWithoutDocker = true)
class ContainerStoreTest extends SoakStoreContract {
  @Container
  private static final PostgreSQLContainer SERVER =
      new PostgreSQLContainer(
          DockerImageName.parse("timescale/timescaledb:2.22.0-pg17")
              .asCompatibleSubstituteFor("postgres"));

  private static Database database;

  @BeforeAll
  static void open() {
    database =
        Database.open(
            DatabaseSettings.url(SERVER.getJdbcUrl(), SERVER.getUsername(), SERVER.getPassword()));
  }

  @AfterAll
  static void close() {
    if (database != null) {
      database.close();
    }
  }

  @Override
  public SoakStore store() {
    return database.soakStore();
  }

  @Test
  void samplesAndBinsAreHypertables() {
    assertThat(database.health().hypertables()).isTrue();
  }
}
