package soakbench.store.server;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.LockSupport;
import soakbench.host.Deadline;

/**
 * Which processes work on one cluster's folder: the server, its backends, which give their folder
 * away only as the one they work in, and the programs that set a cluster up or start it.
 */
final class ClusterProcesses {
  private static final Path PROC = Path.of("/proc");
  private static final List<String> SETTING_UP = List.of("initdb", "pg_ctl");
  private static final long POLL_NS = TimeUnit.MILLISECONDS.toNanos(50);

  private ClusterProcesses() {}

  /** All of them that run; zombies are none. */
  static List<ProcessHandle> on(Path cluster) {
    return ProcessHandle.allProcesses().filter(p -> worksOn(p, cluster)).toList();
  }

  /** The one that was started on the folder; its backends are not. */
  static Optional<ProcessHandle> server(Path cluster) {
    return on(cluster).stream().filter(p -> servesFolder(p, cluster)).findFirst();
  }

  /** Whether the process is a postgres that was started on this folder. */
  static boolean servesFolder(ProcessHandle process, Path cluster) {
    List<String> words = commandLine(process);
    return program(words).startsWith("postgres") && names(process, words, cluster);
  }

  /** Whether it sets the cluster up or starts its server, and keeps nothing that could be lost. */
  static boolean setsUp(ProcessHandle process) {
    return SETTING_UP.contains(program(commandLine(process)));
  }

  private static boolean worksOn(ProcessHandle process, Path cluster) {
    List<String> words = commandLine(process);
    String program = program(words);
    if (SETTING_UP.contains(program)) {
      return names(process, words, cluster);
    }
    return program.startsWith("postgres")
        && (isIn(process, cluster) || names(process, words, cluster));
  }

  private static String program(List<String> words) {
    if (words.isEmpty() || words.get(0).isEmpty()) {
      return "";
    }
    // A backend's title is "postgres: what it does", and what it does may have slashes.
    String first = words.get(0).split(":", 2)[0];
    return first.substring(first.lastIndexOf('/') + 1);
  }

  private static boolean names(ProcessHandle process, List<String> words, Path cluster) {
    return words.stream().skip(1).anyMatch(word -> isFolder(process, word, cluster));
  }

  /**
   * Whether a word names the folder where the process lives: in a container the same path is
   * another folder, and its server none of ours.
   */
  private static boolean isFolder(ProcessHandle process, String word, Path cluster) {
    if (!word.startsWith("/")) {
      return word.equals(cluster.toString());
    }
    Path root = PROC.resolve(process.pid() + "/root");
    try {
      Path itsRoot = Files.exists(PROC) ? root : Path.of("/");
      return Files.isSameFile(itsRoot.resolve(word.substring(1)), cluster);
    } catch (NoSuchFileException e) {
      // A word that names no file is not our folder, unless the folder itself is not there.
      return word.equals(cluster.toString()) && !Files.exists(cluster) && sharesRoot(root);
    } catch (IOException | InvalidPathException e) {
      // It has ended, or is somebody else's.
      return false;
    }
  }

  private static boolean sharesRoot(Path root) {
    try {
      return !Files.exists(PROC) || Files.isSameFile(root, Path.of("/"));
    } catch (IOException e) {
      return false;
    }
  }

  private static boolean isIn(ProcessHandle process, Path cluster) {
    try {
      // The folder itself is compared: its name is what the process's own computer calls it.
      return Files.isSameFile(PROC.resolve(process.pid() + "/cwd"), cluster);
    } catch (IOException e) {
      // It has ended, is somebody else's, or this system has no such links.
      return false;
    }
  }

  private static List<String> commandLine(ProcessHandle process) {
    try {
      Path file = PROC.resolve(process.pid() + "/cmdline");
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

  /** Sends a signal by its name, or ends the process where there are no such signals. */
  static void signal(ProcessHandle process, String signal) {
    if (signal.equals("KILL")) {
      process.destroyForcibly();
    } else if (System.getProperty("os.name").startsWith("Windows")) {
      process.destroy();
    } else {
      bySignal(process, signal);
    }
  }

  /** By the shell's own kill: not every system has a program of that name. */
  private static void bySignal(ProcessHandle process, String signal) {
    try {
      new ProcessBuilder("/bin/sh", "-c", "kill -" + signal + " " + process.pid())
          .redirectErrorStream(true)
          .redirectOutput(ProcessBuilder.Redirect.DISCARD)
          .start();
    } catch (IOException e) {
      // Without a shell this is left; who has to wait for it in vain ends it by signal 9.
      process.destroy();
    }
  }

  /** Waits until none works on the folder any more; returns whether it is so. */
  static boolean noneWithin(Path cluster, long patienceMs) {
    Deadline deadline = Deadline.inMs(patienceMs);
    while (!on(cluster).isEmpty()) {
      if (deadline.isOver()) {
        return false;
      }
      LockSupport.parkNanos(POLL_NS);
    }
    return true;
  }
}
