package soakbench.store;

import io.zonky.test.db.postgres.embedded.EmbeddedPostgres;
import java.io.IOException;
import java.nio.file.Files;
import java.util.List;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.FutureTask;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.live.StoreException;

/**
 * Starts the server with an eye on its log. The library does not see that a server gave up, and
 * would wait out the two minutes that a recovery may need.
 */
final class StartWatch {
  private static final Logger LOG = LoggerFactory.getLogger(StartWatch.class);
  private static final long LOOK_EVERY_MS = 500;

  private StartWatch() {}

  static EmbeddedPostgres start(EmbeddedPostgres.Builder builder, DataFolder folder)
      throws IOException {
    FutureTask<EmbeddedPostgres> starting = new FutureTask<>(builder::start);
    Thread thread = new Thread(starting, "database-start");
    thread.setDaemon(true);
    thread.start();
    while (true) {
      try {
        return starting.get(LOOK_EVERY_MS, TimeUnit.MILLISECONDS);
      } catch (TimeoutException e) {
        if (gaveUp(folder)) {
          giveUp(thread, starting);
          throw EmbeddedServer.notStarted(folder, reason(folder, null), null);
        }
      } catch (ExecutionException e) {
        throw EmbeddedServer.notStarted(folder, reason(folder, e.getCause()), e.getCause());
      } catch (InterruptedException e) {
        Thread.currentThread().interrupt();
        throw new StoreException("starting the database was interrupted", e, true);
      }
    }
  }

  /** Interrupted, the library stops waiting; closing lets go of its lock on the folder. */
  private static void giveUp(Thread thread, FutureTask<EmbeddedPostgres> starting)
      throws IOException {
    thread.interrupt();
    try {
      starting.get(LOOK_EVERY_MS * 20, TimeUnit.MILLISECONDS).close();
    } catch (ExecutionException | TimeoutException e) {
      LOG.debug("giving up a start", e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  private static boolean gaveUp(DataFolder folder) throws IOException {
    return log(folder).stream().anyMatch(line -> line.contains("could not start server"));
  }

  /** The server's own last complaint; else the library's. */
  private static String reason(DataFolder folder, Throwable cause) throws IOException {
    return log(folder).stream()
        .filter(line -> line.contains("FATAL:") || line.contains("error:"))
        .reduce((earlier, later) -> later)
        .map(line -> line.replaceFirst("^.*?(FATAL|error): *", ""))
        .orElse(cause == null ? "no reason given" : cause.toString());
  }

  private static List<String> log(DataFolder folder) throws IOException {
    return Files.exists(folder.serverLog()) ? Files.readAllLines(folder.serverLog()) : List.of();
  }
}
