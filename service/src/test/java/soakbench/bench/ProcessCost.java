package soakbench.bench;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;

/** Processor time and memory of processes, from Linux' /proc. */
public final class ProcessCost {
  private static final double TICKS_PER_S = 100;
  private static final int UTIME = 11;
  private static final int STIME = 12;
  private static final int CHILDREN_UTIME = 13;
  private static final int CHILDREN_STIME = 14;

  private ProcessCost() {}

  /** Processor seconds that a process has used, ended children not counted. */
  public static double cpuS(long pid) throws IOException {
    String[] f = fields(pid);
    return (Long.parseLong(f[UTIME]) + Long.parseLong(f[STIME])) / TICKS_PER_S;
  }

  /** Processor seconds of a process, its ended children and all its living descendants. */
  public static double cpuOfTreeS(long pid) throws IOException {
    String[] f = fields(pid);
    double own =
        (Long.parseLong(f[UTIME])
                + Long.parseLong(f[STIME])
                + Long.parseLong(f[CHILDREN_UTIME])
                + Long.parseLong(f[CHILDREN_STIME]))
            / TICKS_PER_S;
    for (long child : children(pid)) {
      try {
        own += cpuOfTreeS(child);
      } catch (NoSuchFileException e) {
        // It ended since it was listed: from the next look on its parent has its time.
        continue;
      }
    }
    return own;
  }

  /** Resident memory, MiB. */
  static double residentMib(long pid) throws IOException {
    try (Stream<String> lines = Files.lines(Path.of("/proc/" + pid + "/status"))) {
      return lines
          .filter(l -> l.startsWith("VmRSS:"))
          .mapToDouble(l -> Double.parseDouble(l.replaceAll("[^0-9]", "")) / 1024)
          .findFirst()
          .orElse(Double.NaN);
    }
  }

  /** Process of the database server whose files lie in {@code data}, or below it. */
  public static long serverOf(Path data) throws IOException {
    try (Stream<Path> files = Files.walk(data)) {
      Path pidFile =
          files
              .filter(p -> p.getFileName().toString().equals("postmaster.pid"))
              .findFirst()
              .orElseThrow(() -> new IOException("no database server runs in " + data));
      return Long.parseLong(Files.readAllLines(pidFile).get(0).trim());
    }
  }

  private static List<Long> children(long pid) {
    return ProcessHandle.of(pid)
        .map(p -> p.children().map(ProcessHandle::pid).toList())
        .orElse(List.of());
  }

  /** Fields after the command's name, which may hold blanks and brackets. */
  private static String[] fields(long pid) throws IOException {
    String stat = Files.readString(Path.of("/proc/" + pid + "/stat"), StandardCharsets.ISO_8859_1);
    return stat.substring(stat.lastIndexOf(')') + 2).split(" ");
  }
}
