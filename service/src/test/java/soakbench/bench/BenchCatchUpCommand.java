package soakbench.bench;

import java.io.IOException;
import java.io.OutputStream;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import java.util.concurrent.TimeUnit;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;
import soakbench.demo.simulation.SimulateOptions;
import soakbench.demo.simulation.SimulateRun;
import soakbench.ingest.Agent;
import soakbench.ingest.rackfile.RackFile;
import soakbench.ingest.sending.HttpDestination;
import soakbench.ingest.source.Recording;
import soakbench.ingest.spool.Spool;
import soakbench.ingest.spool.SqliteSpool;
import soakbench.model.Sample;

/** How fast a spool empties when the service is back. */
@Command(
    name = "catch-up",
    description =
        "Fills an agent's spool with minutes of a rack, starts a service, and measures how soon it"
            + " has them all.",
    mixinStandardHelpOptions = true,
    footer = {"", "Example: soakbench bench catch-up --trackers 12 --rate-hz 50 --minutes 10"})
final class BenchCatchUpCommand implements Callable<Integer> {
  /** What the agent appends at a time, s. */
  private static final double BATCH_S = 0.2;

  @Mixin private BenchRack rack;

  @Option(
      names = "--minutes",
      defaultValue = "10",
      description = "how long the service was away (default ${DEFAULT-VALUE})")
  private int minutes;

  @Spec private CommandSpec spec;

  @Override
  public Integer call() throws IOException, InterruptedException {
    PrintWriter out = spec.commandLine().getOut();
    Path folder = Files.createTempDirectory("soakbench-bench-");
    try (SqliteSpool spool =
            SqliteSpool.open(folder.resolve("spool.db"), 4 * SqliteSpool.DEFAULT_LIMIT_BYTES);
        ServedProcess service = ServedProcess.start(folder.resolve("db"), null)) {
      service.awaitHealth();
      double fillS = fill(spool, folder);
      long samples = spool.status().waiting();
      double spoolMib = spool.status().usedBytes() / 1048576.0;
      print(out, "%d samples spooled in %.1f s, %.0f MiB%n", samples, fillS, spoolMib);
      double ownCpuS = ProcessCost.cpuS(ProcessHandle.current().pid());
      double serviceCpuS = ProcessCost.cpuS(service.pid());
      double emptyS = empty(spool, service);
      ownCpuS = ProcessCost.cpuS(ProcessHandle.current().pid()) - ownCpuS;
      serviceCpuS = ProcessCost.cpuS(service.pid()) - serviceCpuS;
      print(
          out,
          "%d min of %d trackers at %.0f lines/s stored in %.1f s: %.0f times real time%n",
          minutes,
          rack.trackers(),
          rack.rateHz(),
          emptyS,
          60 * minutes / emptyS);
      print(out, "processor time: agent %.1f s, service %.1f s%n", ownCpuS, serviceCpuS);
    }
    return 0;
  }

  private static void print(PrintWriter out, String form, Object... values) {
    out.printf(Locale.ROOT, form, values);
    out.flush();
  }

  /** Appends the samples in the order and the pieces of a live rack; returns the seconds taken. */
  private double fill(Spool spool, Path folder) throws IOException {
    List<List<Sample>> all = new ArrayList<>();
    for (int i = 1; i <= rack.trackers(); i++) {
      all.add(simulated(i, folder));
    }
    int step = (int) Math.max(1, rack.rateHz() * BATCH_S);
    int longest = all.stream().mapToInt(List::size).max().orElse(0);
    long startNs = System.nanoTime();
    for (int at = 0; at < longest; at += step) {
      List<Sample> batch = new ArrayList<>();
      for (List<Sample> samples : all) {
        batch.addAll(
            samples.subList(Math.min(at, samples.size()), Math.min(at + step, samples.size())));
      }
      spool.append(batch);
    }
    return (System.nanoTime() - startNs) / 1e9;
  }

  private List<Sample> simulated(int number, Path folder) throws IOException {
    SimulateOptions options =
        rack.tracker("AWAY-", number, 60.0 * minutes, Instant.now().minusSeconds(60L * minutes));
    Path file = folder.resolve("lines.jsonl");
    try (OutputStream lines = Files.newOutputStream(file)) {
      SimulateRun.write(options, lines, null);
    }
    List<Sample> samples = new ArrayList<>();
    Recording.read(file, samples::addAll);
    return samples;
  }

  private static double empty(Spool spool, ServedProcess service) throws InterruptedException {
    RackFile none = new RackFile("", List.of());
    long startNs = System.nanoTime();
    try (Agent agent =
        new Agent(none, spool, new HttpDestination(service.url(), () -> null), why -> {})) {
      agent.start();
      while (agent.waiting() > 0) {
        TimeUnit.MILLISECONDS.sleep(10);
      }
      return (System.nanoTime() - startNs) / 1e9;
    }
  }
}
