package soakbench.store.server;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.live.StoreException;

/**
 * A server that outlived its program (kill -9), backends that outlived their server, or the lock
 * file of one that died too. The caller holds the data folder's lock, so whatever runs on it is an
 * orphan.
 */
final class OrphanServer {
  private static final Logger LOG = LoggerFactory.getLogger(OrphanServer.class);

  /** So long a server may write out what it holds; cut off, it recovers at its next start. */
  private static final long FAST_MS = 15_000;

  private static final long SOON_MS = 4_000;

  private OrphanServer() {}

  /** Ends whatever runs on the folder and removes the lock file that it leaves. */
  static void clear(Path cluster) throws IOException {
    // Interrupted or not: nothing may be left running.
    boolean interrupted = Thread.interrupted();
    try {
      if (!ClusterProcesses.on(cluster).isEmpty()) {
        endAll(cluster);
      }
      Files.deleteIfExists(cluster.resolve("postmaster.pid"));
    } finally {
      if (interrupted) {
        Thread.currentThread().interrupt();
      }
    }
  }

  /**
   * The server that runs on this folder now.
   *
   * @throws IOException if none does
   */
  static ProcessHandle running(Path cluster) throws IOException {
    return named(cluster)
        .filter(p -> ClusterProcesses.servesFolder(p, cluster))
        .orElseThrow(() -> new IOException("the database server on " + cluster + " has ended"));
  }

  /** The process that the folder's lock file names, whatever it is. */
  static Optional<ProcessHandle> named(Path cluster) throws IOException {
    return lockFile(cluster).stream()
        .findFirst()
        .map(String::strip)
        .filter(line -> line.matches("[0-9]{1,18}"))
        .map(Long::valueOf)
        .flatMap(ProcessHandle::of);
  }

  private static void endAll(Path cluster) throws IOException {
    for (ProcessHandle process : ClusterProcesses.on(cluster)) {
      if (ClusterProcesses.setsUp(process)) {
        ClusterProcesses.signal(process, "KILL");
      }
    }
    Optional<ProcessHandle> server = ClusterProcesses.server(cluster);
    if (server.isPresent()) {
      LOG.info("stopping the database server (process {})", server.get().pid());
      // One that somebody halted would not hear the other signals.
      ClusterProcesses.signal(server.get(), "CONT");
      // While it still starts or recovers it has nothing to write out, and may not listen for long.
      if (isReady(cluster) && ended(server.get(), "INT", FAST_MS, cluster)
          || ended(server.get(), "QUIT", SOON_MS, cluster)) {
        return;
      }
    }
    kill(cluster);
  }

  private static boolean ended(ProcessHandle server, String signal, long patienceMs, Path cluster) {
    ClusterProcesses.signal(server, signal);
    return ClusterProcesses.noneWithin(cluster, patienceMs);
  }

  /** What committed is on the disk, so signal 9 loses nothing; it only has to reach all of them. */
  private static void kill(Path cluster) {
    List<ProcessHandle> left = ClusterProcesses.on(cluster);
    if (!left.isEmpty()) {
      LOG.info("ending {} processes of a database server by signal 9", left.size());
    }
    // The server first: it would start anew what it sees die.
    ClusterProcesses.server(cluster).ifPresent(ProcessHandle::destroyForcibly);
    for (ProcessHandle process : left) {
      ClusterProcesses.signal(process, "KILL");
    }
    if (!ClusterProcesses.noneWithin(cluster, SOON_MS)) {
      List<Long> pids = ClusterProcesses.on(cluster).stream().map(ProcessHandle::pid).toList();
      throw new StoreException(
          "the database server on %s (processes %s) does not stop; end it by hand, then start again"
              .formatted(cluster, pids),
          null,
          false);
    }
  }

  /** Whether the server says in its lock file that it takes connections. */
  private static boolean isReady(Path cluster) throws IOException {
    return saysOfItself(cluster, "ready");
  }

  /** Whether it says that it is about to stop. */
  static boolean isStopping(Path cluster) throws IOException {
    return saysOfItself(cluster, "stopping");
  }

  private static boolean saysOfItself(Path cluster, String word) throws IOException {
    List<String> lines = lockFile(cluster);
    return lines.size() >= 8 && lines.get(7).strip().equals(word);
  }

  /** What the folder's lock file says; nothing where there is none, or none any more. */
  private static List<String> lockFile(Path cluster) throws IOException {
    try {
      return Files.readAllLines(cluster.resolve("postmaster.pid"));
    } catch (NoSuchFileException e) {
      return List.of();
    }
  }
}
