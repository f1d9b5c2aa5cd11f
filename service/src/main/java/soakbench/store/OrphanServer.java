package soakbench.store;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.live.StoreException;

/**
 * A server that outlived its program (kill -9), or the lock file of one that died too. The caller
 * holds the data folder's lock, so whatever runs on it has no master.
 */
final class OrphanServer {
  private static final Logger LOG = LoggerFactory.getLogger(OrphanServer.class);
  private static final long STOP_WAIT_S = 60;

  private OrphanServer() {}

  /** Stops the orphan where there is one; removes a lock file that names no server of ours. */
  static void clear(Path cluster) throws IOException {
    Path lockFile = cluster.resolve("postmaster.pid");
    if (!Files.exists(lockFile)) {
      return;
    }
    Optional<ProcessHandle> orphan =
        pid(lockFile).flatMap(ProcessHandle::of).filter(p -> servesFolder(p, cluster));
    if (orphan.isPresent()) {
      LOG.info("stopping the database server {} that an earlier run left", orphan.get().pid());
      stop(orphan.get(), cluster);
    }
    Files.deleteIfExists(lockFile);
  }

  /**
   * The server that runs on this folder now.
   *
   * @throws IOException if none does
   */
  static ProcessHandle running(Path cluster) throws IOException {
    return pid(cluster.resolve("postmaster.pid"))
        .flatMap(ProcessHandle::of)
        .orElseThrow(() -> new IOException("the database server on " + cluster + " has ended"));
  }

  private static Optional<Long> pid(Path lockFile) throws IOException {
    return Files.readAllLines(lockFile).stream()
        .findFirst()
        .map(String::strip)
        .filter(line -> line.matches("[0-9]{1,18}"))
        .map(Long::valueOf);
  }

  /** Whether the process is a postgres that was started on this folder. */
  static boolean servesFolder(ProcessHandle process, Path cluster) {
    List<String> words = commandLine(process);
    return !words.isEmpty()
        && Path.of(words.get(0)).getFileName().toString().startsWith("postgres")
        && words.stream().skip(1).anyMatch(word -> isFolder(word, cluster));
  }

  private static boolean isFolder(String word, Path cluster) {
    try {
      return word.startsWith("/") && Files.isSameFile(Path.of(word), cluster);
    } catch (IOException e) {
      // A word that names no file is not our folder.
      return false;
    }
  }

  private static List<String> commandLine(ProcessHandle process) {
    try {
      Path file = Path.of("/proc/" + process.pid() + "/cmdline");
      if (Files.exists(file)) {
        return List.of(Files.readString(file).split("\0"));
      }
    } catch (IOException e) {
      // It ended between the two looks.
      return List.of();
    }
    ProcessHandle.Info info = process.info();
    return info.command()
        .map(command -> join(command, info.arguments().orElse(new String[0])))
        .orElse(List.of());
  }

  private static List<String> join(String command, String[] arguments) {
    String[] all = new String[arguments.length + 1];
    all[0] = command;
    System.arraycopy(arguments, 0, all, 1, arguments.length);
    return Arrays.asList(all);
  }

  /** Fast shutdown; then the immediate one, from which the server recovers at its next start. */
  static void stop(ProcessHandle server, Path cluster) throws IOException {
    for (String signal : List.of("INT", "QUIT")) {
      signal(server, signal);
      if (ended(server)) {
        return;
      }
    }
    throw new StoreException(
        "the database server on %s (process %d) does not stop; end it by hand, then start again"
            .formatted(cluster, server.pid()),
        null,
        false);
  }

  private static void signal(ProcessHandle server, String signal) throws IOException {
    if (System.getProperty("os.name").startsWith("Windows")) {
      server.destroy();
      return;
    }
    new ProcessBuilder("kill", "-" + signal, Long.toString(server.pid())).inheritIO().start();
  }

  private static boolean ended(ProcessHandle server) {
    try {
      server.onExit().get(STOP_WAIT_S, TimeUnit.SECONDS);
      return true;
    } catch (TimeoutException e) {
      return false;
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      return false;
    } catch (ExecutionException e) {
      throw new IllegalStateException("waiting for process " + server.pid() + " failed", e);
    }
  }
}
