package soakbench.store.chunks;

import java.sql.SQLException;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import soakbench.live.SoakStore;
import soakbench.live.SoakStoreContract;
import soakbench.store.Database;

/** The contract where all that was stored is compressed before every unit of work. */
class CompressedStoreTest extends SoakStoreContract {
  private static final String[] COMPRESS = {
    "SELECT compress_chunk(c) FROM show_chunks('sample') c",
    "SELECT compress_chunk(c) FROM show_chunks('bin') c"
  };

  /** The server's own compressing of old chunks, at the same moment, would be refused. */
  private static final String BY_TEST_ALONE =
      "SELECT alter_job(job_id, scheduled => false) FROM timescaledb_information.jobs"
          + " WHERE proc_name = 'policy_compression'";

  private static ChunkedServer server;
  private static Database database;

  @BeforeAll
  static void open() throws SQLException {
    server = ChunkedServer.orSkip();
    server.skipWithoutCommunityLicence();
    database = Database.open(server.settings());
    server.execute(BY_TEST_ALONE);
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
    SoakStore store = database.soakStore();
    return new SoakStore() {
      @Override
      public Unit begin() {
        try {
          server.execute(COMPRESS);
        } catch (SQLException e) {
          throw new IllegalStateException(e);
        }
        return store.begin();
      }

      @Override
      public Reader reader() {
        return store.reader();
      }

      @Override
      public Unit beginReading() {
        return store.beginReading();
      }

      @Override
      public boolean othersMayHaveWritten() {
        return store.othersMayHaveWritten();
      }
    };
  }
}
