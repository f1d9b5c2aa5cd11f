package soakbench.store;

import com.zaxxer.hikari.HikariConfig;
import com.zaxxer.hikari.HikariDataSource;
import java.sql.Connection;
import java.sql.SQLException;
import soakbench.live.StoreException;

/**
 * Connections for three kinds of work, apart so that none starves another: writing, short requests,
 * and long exports.
 */
final class Pools implements AutoCloseable {
  private static final int SOCKET_TIMEOUT_S = 30;
  private static final int WAIT_MS = 3_000;

  static {
    // Tests every connection before use. Else one that was used within the last half second is
    // handed out untested, and the first work after a restart of the server fails.
    System.setProperty("com.zaxxer.hikari.aliveBypassWindowMs", "0");
  }

  private final HikariDataSource writing;
  private final HikariDataSource requests;
  private final HikariDataSource exports;

  Pools(ServerAddress address) {
    writing = pool(address, "writing", 4);
    requests = pool(address, "requests", 6);
    exports = pool(address, "exports", 3);
  }

  private static HikariDataSource pool(ServerAddress address, String name, int size) {
    HikariConfig config = new HikariConfig();
    config.setPoolName(name);
    config.setDataSource(address.dataSource(SOCKET_TIMEOUT_S));
    config.setMaximumPoolSize(size);
    config.setMinimumIdle(1);
    config.setConnectionTimeout(WAIT_MS);
    config.setInitializationFailTimeout(-1);
    return new HikariDataSource(config);
  }

  /** Work on a connection. */
  @FunctionalInterface
  interface Work<T> {
    T on(Connection connection) throws SQLException;
  }

  /** A connection in a transaction, to be given back by {@link #giveBack}. */
  Connection beginWriting() {
    return begin(writing, "beginning to write");
  }

  /** One transaction: committed when the work is done, else taken back. */
  <T> T write(String doing, Work<T> work) {
    return transact(writing, doing, work);
  }

  <T> T request(String doing, Work<T> work) {
    return transact(requests, doing, work);
  }

  <T> T export(String doing, Work<T> work) {
    return transact(exports, doing, work);
  }

  private static <T> T transact(HikariDataSource pool, String doing, Work<T> work) {
    Connection connection = begin(pool, doing);
    try {
      try {
        T result = work.on(connection);
        connection.commit();
        return result;
      } finally {
        giveBack(connection);
      }
    } catch (SQLException e) {
      throw Faults.of(doing, e);
    }
  }

  /**
   * Takes back what was not committed, then closes. The pool does so only for statements that it
   * saw; it does not see a COPY, and by turning autocommit on again it would commit it.
   */
  static void giveBack(Connection connection) throws SQLException {
    try (connection) {
      connection.rollback();
    }
  }

  private static Connection begin(HikariDataSource pool, String doing) {
    if (pool.isClosed()) {
      throw new StoreException("the database is closed; no more " + doing, null, false);
    }
    try {
      Connection connection = pool.getConnection();
      connection.setAutoCommit(false);
      return connection;
    } catch (SQLException e) {
      throw Faults.of(doing, e);
    }
  }

  @Override
  public void close() {
    exports.close();
    requests.close();
    writing.close();
  }
}
