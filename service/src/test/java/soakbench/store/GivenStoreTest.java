package soakbench.store;

import java.sql.SQLException;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import soakbench.live.SoakStore;
import soakbench.live.SoakStoreContract;
import soakbench.store.server.GivenServer;

/** The contract on any server: {@code -Dsoakbench.test.db=jdbc:postgresql://…}. */
class GivenStoreTest extends SoakStoreContract {
  private static GivenServer server;
  private static Database database;

  @BeforeAll
  static void open() throws SQLException {
    server = GivenServer.orSkip();
    database = Database.open(server.settings());
  }

  @AfterAll
  static void close() throws SQLException {
    if (database != null) {
      database.close();
    }
    if (server != null) {
      server.close();
    }
  }

  @Override
  public SoakStore store() {
    return database.soakStore();
  }
}
