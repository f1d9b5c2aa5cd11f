package soakbench.bench;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import java.util.concurrent.TimeUnit;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/**
 * How soon the events tell what the ports said: {@code serve} in a process of its own with a new
 * embedded database, fed through pseudo-terminals in real time, and an HTTP client that listens.
 */
@Command(
    name = "events",
    description =
        "Measures how long it takes from a line written into a port to the event that tells of it.",
    mixinStandardHelpOptions = true,
    footer = {"", "Example: soakbench bench events --trackers 24 --rate-hz 100 --seconds 120"})
final class BenchEventsCommand implements Callable<Integer> {
  /** Not counted: the program warms up, and first soaks begin. */
  private static final int WARM_UP_S = 15;

  @Option(
      names = "--trackers",
      defaultValue = "24",
      description = "how many (default ${DEFAULT-VALUE})")
  private int trackers;

  @Option(
      names = "--rate-hz",
      defaultValue = "100",
      description = "lines a second of each (default ${DEFAULT-VALUE})")
  private double rateHz;

  @Option(
      names = "--seconds",
      defaultValue = "120",
      description = "how long (default ${DEFAULT-VALUE})")
  private int seconds;

  @Spec private CommandSpec spec;

  @Override
  public Integer call() throws IOException, InterruptedException {
    Path folder = Files.createTempDirectory("soakbench-bench-");
    try (TimedRack rack = TimedRack.start(trackers, rateHz, folder);
        ServedProcess service = ServedProcess.start(folder.resolve("db"), rack.rackFile())) {
      EventTimes times = new EventTimes(rack);
      long fromNs = System.nanoTime() + TimeUnit.SECONDS.toNanos(WARM_UP_S);
      long linesBefore = rack.lines();
      times.read(service.url(), fromNs, fromNs + TimeUnit.SECONDS.toNanos(seconds));
      print(times, rack.lines() - linesBefore);
    }
    return 0;
  }

  private void print(EventTimes times, long lines) {
    PrintWriter out = spec.commandLine().getOut();
    out.printf(
        Locale.ROOT,
        "%d trackers, %.0f lines/s each, %d s after %d s of warm-up: %d lines%n",
        trackers,
        rateHz,
        seconds,
        WARM_UP_S,
        lines);
    out.printf("%-52s %8s %7s %7s %7s%n", "ms", "count", "50 %", "95 %", "99 %");
    row(out, "line that decides a second -> its figures", times.decidedToFiguresMs);
    row(out, "line that decides a second -> change of state", times.decidedToChangeMs);
    row(out, "first line after a second -> its figures", times.endToFiguresMs);
    row(out, "line -> figures that count it", times.lineToFiguresMs);
    out.flush();
  }

  private static void row(PrintWriter out, String what, List<Double> ms) {
    List<Double> sorted = ms.stream().sorted().toList();
    out.printf(
        Locale.ROOT,
        "%-52s %8d %7.0f %7.0f %7.0f%n",
        what,
        sorted.size(),
        quantile(sorted, 0.50),
        quantile(sorted, 0.95),
        quantile(sorted, 0.99));
  }

  private static double quantile(List<Double> sorted, double share) {
    if (sorted.isEmpty()) {
      return Double.NaN;
    }
    return sorted.get((int) Math.min(sorted.size() - 1L, Math.round(share * sorted.size())));
  }
}
