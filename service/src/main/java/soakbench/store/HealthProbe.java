package soakbench.store;

import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.RejectedExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;

/** Asks the server for a sign of life, without ever waiting long for it. */
final class HealthProbe implements AutoCloseable {
  private static final long PATIENCE_MS = 1_500;

  private final Pools pools;
  private final String kind;
  private final boolean hypertables;
  private final ExecutorService asker =
      Executors.newSingleThreadExecutor(
          task -> {
            Thread thread = new Thread(task, "database-health");
            thread.setDaemon(true);
            return thread;
          });

  private Future<String> pending;

  HealthProbe(Pools pools, String kind, boolean hypertables) {
    this.pools = pools;
    this.kind = kind;
    this.hypertables = hypertables;
  }

  /** Never throws. */
  DatabaseHealth ask() {
    try {
      String version = question().get(PATIENCE_MS, TimeUnit.MILLISECONDS);
      return new DatabaseHealth(true, kind, hypertables, version, "the database answers");
    } catch (TimeoutException e) {
      return bad("the database did not answer within " + PATIENCE_MS + " ms");
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      return bad("the question to the database was interrupted");
    } catch (ExecutionException e) {
      return bad(e.getCause().getMessage());
    } catch (RejectedExecutionException e) {
      return bad("the database is closed");
    }
  }

  /**
   * All who ask while one question is open wait for its answer, so that questions don't pile up.
   */
  private synchronized Future<String> question() {
    if (pending == null || pending.isDone()) {
      pending = asker.submit(this::version);
    }
    return pending;
  }

  private String version() {
    return pools.request(
        "asking for a sign of life",
        c -> Query.list(c, rows -> rows.getString(1), "SHOW server_version").get(0));
  }

  private DatabaseHealth bad(String message) {
    return new DatabaseHealth(false, kind, hypertables, null, message);
  }

  @Override
  public void close() {
    asker.shutdownNow();
  }
}
