package soakbench.store;

import java.nio.file.Path;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.io.TempDir;
import soakbench.live.SoakStore;
import soakbench.live.SoakStoreContract;
import soakbench.store.server.DatabaseSettings;

class EmbeddedStoreTest extends SoakStoreContract {
  @TempDir static Path folder;
  private static Database database;

  @BeforeAll
  static void open() {
    database = Database.open(DatabaseSettings.embedded(folder));
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
}
