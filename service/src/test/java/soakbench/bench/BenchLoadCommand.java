package soakbench.bench;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.concurrent.Callable;
import java.util.concurrent.TimeUnit;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/**
 * What {@code serve} costs: the program in a process of its own, fed through pseudo-terminals in
 * real time.
 */
@Command(
    name = "load",
    description =
        "Measures how much of one core serve and its database need, and how soon they answer.",
    mixinStandardHelpOptions = true,
    footer = {"", "Example: soakbench bench load --trackers 12 --rate-hz 50 --seconds 120"})
final class BenchLoadCommand implements Callable<Integer> {
  @Mixin private BenchRack rack;

  @Option(
      names = "--seconds",
      defaultValue = "120",
      description = "how long (default ${DEFAULT-VALUE})")
  private int seconds;

  @Option(
      names = "--settle-s",
      defaultValue = "60",
      description =
          "how long before that: its code is still being compiled then, which is measured apart"
              + " (default ${DEFAULT-VALUE})")
  private int settleS;

  @Spec private CommandSpec spec;

  @Override
  public Integer call() throws IOException, InterruptedException {
    PrintWriter out = spec.commandLine().getOut();
    Path data = Files.createTempDirectory("soakbench-bench-");
    serve(data, null, started -> null, out, "first start, new database");
    try (LoadRack load = LoadRack.start(rack, settleS + seconds, data)) {
      serve(
          data,
          load.rackFile(),
          started -> measure(started, data, load),
          out,
          "start, existing database");
    }
    return 0;
  }

  private interface Work {
    String with(ServedProcess started) throws IOException, InterruptedException;
  }

  private void serve(Path data, Path rackFile, Work work, PrintWriter out, String what)
      throws IOException, InterruptedException {
    long startNs = System.nanoTime();
    try (ServedProcess started = ServedProcess.start(data.resolve("db"), rackFile)) {
      started.awaitHealth();
      out.printf(
          Locale.ROOT, "%-28s healthy after %.1f s%n", what, (System.nanoTime() - startNs) / 1e9);
      out.flush();
      String found = work.with(started);
      if (found != null) {
        out.print(found);
        out.flush();
      }
    }
  }

  private String measure(ServedProcess started, Path data, LoadRack load)
      throws IOException, InterruptedException {
    // What was printed before it was healthy had nobody to read it.
    long droppedBefore = load.bytesDropped();
    Cost cost = new Cost(started.pid(), ProcessCost.serverOf(data.resolve("db")));
    String settling = cost.over(settleS).words("compiling, first " + settleS + " s");
    long linesBefore = load.lines();
    Shares shares = cost.over(seconds);
    return String.format(
        Locale.ROOT,
        "%d trackers, %.0f lines/s each, %d s: %d lines, %d bytes dropped by full ports%n"
            + "%s%s%.0f MiB resident%n",
        rack.trackers(),
        rack.rateHz(),
        seconds,
        load.lines() - linesBefore,
        load.bytesDropped() - droppedBefore,
        shares.words("afterwards"),
        settling,
        ProcessCost.residentMib(started.pid()));
  }

  /** Shares of a core that the program and its database took. */
  private record Shares(double program, double database) {
    String words(String when) {
      return String.format(
          Locale.ROOT,
          "%-22s program %5.1f %%, database %5.1f %%, together %5.1f %% of one core%n",
          when,
          100 * program,
          100 * database,
          100 * (program + database));
    }
  }

  private record Cost(long program, long database) {
    Shares over(int seconds) throws IOException, InterruptedException {
      double programS = ProcessCost.cpuS(program);
      double databaseS = ProcessCost.cpuOfTreeS(database);
      TimeUnit.SECONDS.sleep(seconds);
      return new Shares(
          (ProcessCost.cpuS(program) - programS) / seconds,
          (ProcessCost.cpuOfTreeS(database) - databaseS) / seconds);
    }
  }
}
