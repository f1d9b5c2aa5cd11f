package soakbench.store.server;

import io.zonky.test.db.postgres.embedded.EmbeddedPostgres;
import java.io.IOException;
import java.nio.file.Files;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.FutureTask;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.regex.Pattern;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.host.Daemons;
import soakbench.live.StoreException;

/**
 * Starts the server and watches its log and its process meanwhile. The library does not see that a
 * server gave up or was killed, and would wait out the two minutes that a recovery may need.
 */
final class ServerStart {
  private static final Logger LOG = LoggerFactory.getLogger(ServerStart.class);
  private static final long POLL_MS = 200;
  private static final long GIVE_UP_MS = 10_000;

  /** Complaints of a server that was killed, or that its predecessor's remains disturbed. */
  private static final Pattern PASSING =
      Pattern.compile(
          "the database system is |terminating |postmaster exit|pre-existing shared memory"
              + "|could not create any TCP/IP sockets|lock file \"postmaster.pid\"");

  private final Thread thread;
  private final FutureTask<EmbeddedPostgres> starting;
  private final DataFolder folder;
  private boolean serverSeen;

  private ServerStart(EmbeddedPostgres.Builder builder, DataFolder folder) {
    this.folder = folder;
    this.starting = new FutureTask<>(builder::start);
    this.thread = Daemons.thread("database-start", starting);
  }

  /**
   * @throws StoreException if it does not start: transient where it was ended from outside, or this
   *     thread was interrupted; nothing runs on the folder then
   */
  static EmbeddedPostgres start(EmbeddedPostgres.Builder builder, DataFolder folder)
      throws IOException {
    ServerStart watch = new ServerStart(builder, folder);
    watch.thread.start();
    return watch.await();
  }

  private EmbeddedPostgres await() throws IOException {
    while (true) {
      try {
        return starting.get(POLL_MS, TimeUnit.MILLISECONDS);
      } catch (TimeoutException e) {
        if (gaveUp() || vanished()) {
          giveUp();
          throw failure(null);
        }
      } catch (ExecutionException e) {
        throw failure(e.getCause());
      } catch (InterruptedException e) {
        giveUp();
        Thread.currentThread().interrupt();
        throw new StoreException("starting the database was interrupted", e, true);
      }
    }
  }

  /** Interrupted, the library stops waiting; closing lets go of its lock on the folder. */
  private void giveUp() throws IOException {
    thread.interrupt();
    try {
      starting.get(GIVE_UP_MS, TimeUnit.MILLISECONDS).close();
    } catch (ExecutionException | TimeoutException e) {
      LOG.debug("giving up a start", e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
    OrphanServer.clear(folder.cluster());
  }

  private boolean gaveUp() throws IOException {
    return log().stream().anyMatch(line -> line.contains("could not start server"));
  }

  /** Whether there was a server and is none any more. */
  private boolean vanished() throws IOException {
    boolean there =
        OrphanServer.named(folder.cluster())
            .filter(p -> ClusterProcesses.servesFolder(p, folder.cluster()))
            .isPresent();
    boolean gone = serverSeen && !there;
    serverSeen |= there;
    return gone;
  }

  private StoreException failure(Throwable cause) throws IOException {
    Optional<String> complaint = complaint();
    // Also one of the programs that set it up: where they fail by themselves they complain.
    boolean setUpEnded = cause != null && String.valueOf(cause.getMessage()).startsWith("Process ");
    if (complaint.isEmpty() && (serverSeen || cause == null || setUpEnded)) {
      String why = "it was ended while it started";
      return new StoreException(
          "the database in %s does not start (%s); look into %s"
              .formatted(folder.path(), why, folder.serverLog()),
          cause,
          true);
    }
    String why = complaint.orElse(String.valueOf(cause));
    return notStarted(folder, why, cause);
  }

  /** The server's own last complaint that is about itself. */
  private Optional<String> complaint() throws IOException {
    return log().stream()
        .filter(line -> line.contains("FATAL:") || line.contains("error:"))
        .filter(line -> !PASSING.matcher(line).find())
        .reduce((earlier, later) -> later)
        .map(line -> line.replaceFirst("^.*?(FATAL|error): *", ""));
  }

  private List<String> log() throws IOException {
    return Files.exists(folder.serverLog()) ? Files.readAllLines(folder.serverLog()) : List.of();
  }

  static StoreException notStarted(DataFolder folder, String why, Throwable cause) {
    return new StoreException(
        "the database in %s does not start (%s); look into %s"
            .formatted(folder.path(), why, folder.serverLog()),
        cause,
        false);
  }
}
