package soakbench.store.server;

import java.io.IOException;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.host.Daemons;
import soakbench.live.StoreException;

/**
 * Supervises our own server: restarts it where it ends without being asked to, killed by the system
 * for want of memory, or by a person. Until it answers again the store is away, and samples wait in
 * the spool.
 */
final class ServerSupervisor implements AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(ServerSupervisor.class);
  private static final long FIRST_PAUSE_MS = 500;
  private static final long LONGEST_PAUSE_MS = 30_000;
  private static final long POLL_MS = 1_000;

  /** Starts the server anew and gives its process. */
  @FunctionalInterface
  interface Start {
    ProcessHandle again() throws IOException;

    /** Looked at every second: makes an end of it where it stops but does not get done. */
    default void hasten(ProcessHandle server) {}
  }

  private final Start start;
  private final CompletableFuture<Void> closing = new CompletableFuture<>();
  private final Thread thread = Daemons.thread("database-keeper", this::run);
  private ProcessHandle process;

  /**
   * @param process the server as it runs now
   * @param start called on the supervisor's own thread, again and again until it succeeds
   */
  ServerSupervisor(ProcessHandle process, Start start) {
    this.process = process;
    this.start = start;
    thread.start();
  }

  private void run() {
    while (true) {
      awaitEnd();
      if (closing.isDone()) {
        return;
      }
      LOG.error("the database server (process {}) has ended; starting it again", process.pid());
      startAgain();
    }
  }

  /**
   * A server that somebody asked to stop waits for our own connections, which stay open: its stop
   * is hastened.
   */
  private void awaitEnd() {
    CompletableFuture<Object> end = CompletableFuture.anyOf(process.onExit(), closing);
    while (!end.isDone()) {
      try {
        end.get(POLL_MS, TimeUnit.MILLISECONDS);
      } catch (TimeoutException e) {
        start.hasten(process);
      } catch (InterruptedException | ExecutionException e) {
        LOG.debug("waiting for the server's end", e);
      }
    }
  }

  private void startAgain() {
    String logged = "";
    for (long pauseMs = FIRST_PAUSE_MS; !closesWithin(pauseMs); pauseMs = longer(pauseMs)) {
      try {
        process = start.again();
        LOG.info("the database server runs again (process {})", process.pid());
        return;
      } catch (IOException | StoreException e) {
        if (!logged.equals(e.getMessage())) {
          logged = e.getMessage();
          LOG.error("{}; trying again", logged);
        }
      }
    }
  }

  private static long longer(long pauseMs) {
    return Math.min(2 * pauseMs, LONGEST_PAUSE_MS);
  }

  /** Waits a little: what the dead server had open is closed by the system meanwhile. */
  private boolean closesWithin(long pauseMs) {
    try {
      closing.get(pauseMs, TimeUnit.MILLISECONDS);
      return true;
    } catch (TimeoutException e) {
      return false;
    } catch (InterruptedException | ExecutionException e) {
      return true;
    }
  }

  /** Starts nothing from now on; gives up a start that is under way. */
  @Override
  public void close() {
    closing.complete(null);
    thread.interrupt();
    try {
      thread.join();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}
