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

  @Spec private CommandSpec spec;

  @Override
  public Integer call() throws IOException, InterruptedException {
    PrintWriter out = spec.commandLine().getOut();
    Path data = Files.createTempDirectory("soakbench-bench-");
    serve(data, null, started -> null, out, "first start, new database");
    try (LoadRack load = LoadRack.start(rack, seconds, data)) {
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
    long program = started.pid();
    long server = ProcessCost.serverOf(data.resolve("db"));
    double programS = ProcessCost.cpuS(program);
    double serverS = ProcessCost.cpuOfTreeS(server);
    long linesBefore = load.lines();
    TimeUnit.SECONDS.sleep(seconds);
    double programShare = (ProcessCost.cpuS(program) - programS) / seconds;
    double serverShare = (ProcessCost.cpuOfTreeS(server) - serverS) / seconds;
    return String.format(
        Locale.ROOT,
        "%d trackers, %.0f lines/s each, %d s: %d lines, %d bytes dropped by full ports%n"
            + "program   %5.1f %% of one core, %4.0f MiB resident%n"
            + "database  %5.1f %% of one core%n"
            + "together  %5.1f %% of one core%n",
        rack.trackers(),
        rack.rateHz(),
        seconds,
        load.lines() - linesBefore,
        load.bytesDropped(),
        100 * programShare,
        ProcessCost.residentMib(program),
        100 * serverShare,
        100 * (programShare + serverShare));
  }
}
