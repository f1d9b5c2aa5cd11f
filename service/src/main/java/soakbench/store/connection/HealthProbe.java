package soakbench.store.connection;

import java.net.SocketTimeoutException;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.Optional;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.RejectedExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import soakbench.host.Daemons;
import soakbench.live.StoreException;
import soakbench.store.server.ServerAddress;

/**
 * Probes the server, on a connection of its own, with a short timeout: a pool would wait for work
 * that hangs.
 */
public final class HealthProbe implements AutoCloseable {
  private static final long PATIENCE_MS = 1_500;
  private static final int ANSWER_S = 2;

  private final ExecutorService asker =
      Executors.newSingleThreadExecutor(Daemons.named("database-health"));

  private Future<Found> pending;
  private volatile ServerAddress address;

  /** Used by the probing thread alone, and by {@link #close}. */
  private volatile Connection connection;

  /** Probes this server from now on. */
  public void ask(ServerAddress whom) {
    address = whom;
  }

  /**
   * What was found of the server.
   *
   * @param version its version
   * @param chunks what of TimescaleDB is in use; empty where there is none
   */
  public record Found(String version, Optional<ChunkStatus> chunks) {}

  /**
   * The server's version, as a sign that it answers, and how the tables lie in it.
   *
   * @throws StoreException if it does not, soon
   */
  public Found found() {
    try {
      return question().get(PATIENCE_MS, TimeUnit.MILLISECONDS);
    } catch (TimeoutException e) {
      throw away("the database did not answer within " + PATIENCE_MS + " ms");
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw away("the question to the database was interrupted");
    } catch (ExecutionException e) {
      throw away(e.getCause().getMessage());
    } catch (RejectedExecutionException e) {
      throw away("the database is closed");
    }
  }

  private static StoreException away(String why) {
    return new StoreException(why, null, true);
  }

  /** Callers during an open probe wait for its answer, so that probes don't pile up. */
  private synchronized Future<Found> question() {
    if (pending == null || pending.isDone()) {
      pending = asker.submit(this::asked);
    }
    return pending;
  }

  private Found asked() {
    boolean kept = connection != null;
    try {
      return askedOnce();
    } catch (SQLException e) {
      drop();
      if (!kept || timedOut(e)) {
        throw fault(e);
      }
    }
    try {
      // The server may have been restarted since the last probe.
      return askedOnce();
    } catch (SQLException e) {
      drop();
      throw fault(e);
    }
  }

  private static StoreException fault(SQLException e) {
    return timedOut(e)
        ? away("the database takes connections and did not answer within " + ANSWER_S + " s")
        : DatabaseFaults.of("asking for a sign of life", e);
  }

  private static boolean timedOut(SQLException e) {
    for (Throwable cause = e; cause != null; cause = cause.getCause()) {
      if (cause instanceof SocketTimeoutException) {
        return true;
      }
    }
    return false;
  }

  private Found askedOnce() throws SQLException {
    ServerAddress whom = address;
    if (whom == null) {
      throw away("the database is not open yet");
    }
    if (connection == null) {
      connection = whom.dataSource(ANSWER_S).getConnection();
    }
    String version =
        Query.list(connection, rows -> rows.getString(1), "SHOW server_version").get(0);
    return new Found(version, ChunkStatus.read(connection));
  }

  private void drop() {
    Connection old = connection;
    connection = null;
    try {
      if (old != null) {
        old.abort(Runnable::run);
      }
    } catch (SQLException e) {
      // It was lost already, which is why it is dropped.
      return;
    }
  }

  @Override
  public void close() {
    asker.shutdownNow();
    drop();
  }
}
