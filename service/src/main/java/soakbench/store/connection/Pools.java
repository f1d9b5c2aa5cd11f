package soakbench.store.connection;

import com.zaxxer.hikari.HikariConfig;
import com.zaxxer.hikari.HikariDataSource;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.List;
import java.util.function.Function;
import soakbench.live.StoreException;
import soakbench.store.server.ServerAddress;

/**
 * Connections for three kinds of work, apart so that none starves another: writing, short requests,
 * and long exports. Only the holder of the right to write can write, which is checked in every
 * transaction.
 */
public final class Pools implements AutoCloseable {
  private static final int SOCKET_TIMEOUT_S = 30;
  private static final int WAIT_MS = 3_000;

  static {
    // Tests every connection before use. Else one that was used within the last half second is
    // given out untested, and the first work after a restart of the server fails.
    System.setProperty("com.zaxxer.hikari.aliveBypassWindowMs", "0");
  }

  /**
   * @param lock the right to write; null for reading only
   */
  private record Opened(
      HikariDataSource writing,
      HikariDataSource requests,
      HikariDataSource exports,
      WriterLock lock) {
    void close() {
      exports.close();
      requests.close();
      writing.close();
    }
  }

  private final Announcements announcements = new Announcements();
  private Opened opened;
  private boolean closed;

  /** What other programs commit, and what this one does. */
  public Announcements announcements() {
    return announcements;
  }

  /**
   * Goes to this server from now on.
   *
   * @param lock the right to write; null for reading only
   */
  public void open(ServerAddress address, WriterLock lock) {
    Opened made =
        new Opened(
            pool(address, "writing", 4),
            pool(address, "requests", 6),
            pool(address, "exports", 3),
            lock);
    Opened before = swap(made);
    announcements.listen(address);
    if (before != null) {
      before.close();
    }
  }

  private synchronized Opened swap(Opened next) {
    Opened before = opened;
    if (closed && next != null) {
      next.close();
      throw closed("going to it");
    }
    opened = next;
    return before;
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
  public interface Work<T> {
    T on(Connection connection) throws SQLException;
  }

  /** A connection in a transaction that may write, to be given back by {@link #giveBack}. */
  public Connection beginWriting() {
    return begin(Opened::writing, "beginning to write", true);
  }

  /** Whether others may have written since this was asked for the last time. */
  public synchronized boolean othersMayHaveWritten() {
    return opened != null && opened.lock() != null && opened.lock().othersMayHaveWritten();
  }

  /** A connection in a transaction that can't write, to be given back by {@link #giveBack}. */
  public Connection beginReading() {
    return begin(Opened::writing, "beginning to read", false);
  }

  /** One transaction: committed when the work is done, else taken back. */
  public <T> T write(String doing, Work<T> work) {
    return transact(Opened::writing, doing, true, told(work));
  }

  /** A short one that writes and must not wait for samples that are being written. */
  public <T> T change(String doing, Work<T> work) {
    return transact(Opened::requests, doing, true, told(work));
  }

  /** The same where others need not be told: they read it from the tables whenever it is asked. */
  public <T> T derive(String doing, Work<T> work) {
    return transact(Opened::requests, doing, true, work);
  }

  private <T> Work<T> told(Work<T> work) {
    return connection -> {
      T result = work.on(connection);
      announcements.announce(connection, true, List.of());
      return result;
    };
  }

  public <T> T request(String doing, Work<T> work) {
    return transact(Opened::requests, doing, false, work);
  }

  public <T> T export(String doing, Work<T> work) {
    return transact(Opened::exports, doing, false, work);
  }

  private <T> T transact(
      Function<Opened, HikariDataSource> which, String doing, boolean writes, Work<T> work) {
    Connection connection = begin(which, doing, writes);
    try {
      try {
        T result = work.on(connection);
        connection.commit();
        return result;
      } finally {
        giveBack(connection);
      }
    } catch (SQLException e) {
      throw DatabaseFaults.of(doing, e);
    }
  }

  /**
   * Takes back what was not committed, then closes. The pool does so only for statements that it
   * saw; it does not see a COPY, and by turning autocommit on again it would commit it.
   */
  public static void giveBack(Connection connection) throws SQLException {
    try (connection) {
      connection.rollback();
    }
  }

  private Connection begin(Function<Opened, HikariDataSource> which, String doing, boolean writes) {
    Opened now = opened(doing);
    if (writes && now.lock() == null) {
      throw new StoreException("this service only reads; no " + doing, null, false);
    }
    try {
      if (writes) {
        now.lock().takeIfLost();
      }
      Connection connection = which.apply(now).getConnection();
      try {
        begin(connection, writes ? now.lock() : null);
        return connection;
      } catch (SQLException | RuntimeException e) {
        connection.close();
        throw e;
      }
    } catch (SQLException e) {
      throw DatabaseFaults.of(doing, e);
    }
  }

  private static void begin(Connection connection, WriterLock lock) throws SQLException {
    connection.setReadOnly(lock == null);
    connection.setAutoCommit(false);
    if (lock != null) {
      lock.check(connection);
    }
  }

  public synchronized boolean isOpen() {
    return opened != null;
  }

  private synchronized Opened opened(String doing) {
    if (closed) {
      throw closed(doing);
    }
    if (opened == null) {
      throw new StoreException("the database is not open yet; no " + doing, null, true);
    }
    return opened;
  }

  private static StoreException closed(String doing) {
    return new StoreException("the database is closed; no more " + doing, null, false);
  }

  /** Cuts off what is under way, too. */
  @Override
  public void close() {
    Opened before;
    synchronized (this) {
      closed = true;
      before = opened;
      opened = null;
    }
    announcements.close();
    if (before != null) {
      before.close();
    }
  }
}
