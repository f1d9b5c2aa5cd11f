package soakbench.store.backup;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import soakbench.live.StoreException;
import soakbench.model.RackSet;
import soakbench.store.connection.FirstConnection;
import soakbench.store.connection.WriterLock;
import soakbench.store.server.DataFolder;
import soakbench.store.server.DatabaseSettings;
import soakbench.store.server.EmbeddedServer;
import soakbench.store.server.ServerAddress;

/** A store's server, reached: started where it is our own and nobody runs it. */
final class OpenStore implements AutoCloseable {
  /**
   * For long work: no limit of time but on waiting for others' locks; one spelling of every value,
   * whatever the server's settings are; rows in the order in which they lie, and an error in place
   * of rows that this user may not see.
   */
  private static final String SESSION =
      "SET statement_timeout = 0; SET idle_in_transaction_session_timeout = 0;"
          + " SET lock_timeout = '60s'; SET timezone = 'UTC'; SET datestyle = 'ISO, YMD';"
          + " SET intervalstyle = 'iso_8601'; SET extra_float_digits = 1;"
          + " SET synchronize_seqscans = off; SET row_security = off";

  private final DatabaseSettings settings;
  private final ServerAddress address;
  private final EmbeddedServer server;
  private final WriterLock lock;

  private OpenStore(
      DatabaseSettings settings, ServerAddress address, EmbeddedServer server, WriterLock lock) {
    this.settings = settings;
    this.address = address;
    this.server = server;
    this.lock = lock;
  }

  /**
   * To read it, also while a service is at work on it.
   *
   * @throws StoreException if there is none, or it can't be reached
   */
  static OpenStore toRead(DatabaseSettings settings) {
    if (!settings.isEmbedded()) {
      return reached(settings, ServerAddress.of(settings));
    }
    Path folder = settings.dataFolder();
    if (!Files.exists(folder.resolve("postgres"))) {
      throw new StoreException(
          "%s holds no data of Soakbench; name the folder of the service with --data, or its database with --db"
              .formatted(folder),
          null,
          false);
    }
    try {
      return started(settings);
    } catch (DataFolder.FolderInUseException e) {
      return reached(settings, EmbeddedServer.addressOfAnother(folder));
    }
  }

  /**
   * To fill it, while nobody else writes there.
   *
   * @throws StoreException if it can't be reached, or another program is at work there
   */
  static OpenStore toWrite(DatabaseSettings settings) {
    if (settings.isEmbedded()) {
      return started(settings);
    }
    OpenStore store = reached(settings, ServerAddress.of(settings));
    WriterLock lock = new WriterLock(store.address, RackSet.ALL);
    if (!lock.tryTake()) {
      String who = lock.holder().map(w -> w.words()).orElse("not said who");
      lock.close();
      throw new StoreException(
          "a Soakbench writes to %s (%s); stop it first, or name another database"
              .formatted(settings, who),
          null,
          false);
    }
    return new OpenStore(settings, store.address, null, lock);
  }

  private static OpenStore started(DatabaseSettings settings) {
    EmbeddedServer server = EmbeddedServer.start(settings.dataFolder());
    return new OpenStore(settings, server.address(), server, null);
  }

  private static OpenStore reached(DatabaseSettings settings, ServerAddress address) {
    FirstConnection.checkWhenStarted(address);
    return new OpenStore(settings, address, null, null);
  }

  ServerAddress address() {
    return address;
  }

  boolean isEmbedded() {
    return settings.isEmbedded();
  }

  /** A connection in a transaction that sees one state of the store. */
  Connection connect() throws SQLException {
    Connection connection = address.dataSource(0).getConnection();
    try (Statement statement = connection.createStatement()) {
      statement.execute(SESSION);
      connection.setAutoCommit(false);
      connection.setTransactionIsolation(Connection.TRANSACTION_REPEATABLE_READ);
      return connection;
    } catch (SQLException | RuntimeException e) {
      connection.close();
      throw e;
    }
  }

  /** In words, without a password. */
  @Override
  public String toString() {
    return settings.toString();
  }

  @Override
  public void close() throws IOException {
    try {
      if (lock != null) {
        lock.close();
      }
    } finally {
      if (server != null) {
        server.close();
      }
    }
  }
}
