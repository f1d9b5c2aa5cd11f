package soakbench.store.chunks;

import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.lang.management.ThreadMXBean;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;
import soakbench.bench.BenchSamples;
import soakbench.cli.options.CommandException;
import soakbench.live.SoakStore;
import soakbench.model.Sample;
import soakbench.store.Database;
import soakbench.store.server.DatabaseSettings;

/**
 * What a long history costs: one soak of ten hours read, and samples written, where a hundredth, a
 * tenth and all of so many samples are stored; where there is TimescaleDB, then the same with all
 * of it compressed, and what a sample takes. The history is made by the server itself: soaks of ten
 * hours at five lines a second of 24 trackers, every other day.
 */
@Command(
    name = "history",
    description = "Measures what a long history costs when reading and writing.",
    mixinStandardHelpOptions = true,
    footer = {
      "",
      "Example: bench history --millions 50 --db jdbc:postgresql://HOST/NAME?user=USER"
    })
public final class BenchHistoryCommand implements Callable<Integer> {
  private static final int TRIALS = 9;
  private static final int BATCH = 5_000;

  @Option(
      names = "--millions",
      defaultValue = "50",
      description = "samples in the end, millions (default ${DEFAULT-VALUE})")
  private double millions;

  @Option(
      names = "--db",
      paramLabel = "URL",
      description = "an empty database of a given server in place of one of its own; it is filled")
  private String url;

  @Spec private CommandSpec spec;

  private List<List<Sample>> batches;
  private double freshBefore;
  private double repeatedBefore;

  @Override
  public Integer call() throws IOException, SQLException {
    Path folder = Files.createTempDirectory("soakbench-bench-");
    batches = BenchSamples.batches(BenchSamples.of(24, 50, 60, folder), BATCH);
    DatabaseSettings settings =
        url == null ? DatabaseSettings.embedded(folder.resolve("db")) : DatabaseSettings.url(url);
    try (Database database = Database.open(settings);
        StoredHistory history = StoredHistory.beside(settings)) {
      for (double part : new double[] {0.01, 0.1, 1}) {
        history.growTo(Math.round(part * millions * 1e6));
        print("%.2f million samples stored%n", history.samples() / 1e6);
        measure(database, history);
      }
      if (database.health().compression()) {
        print("%.1f bytes a sample, %.1f a bin%n", history.bytes("sample"), history.bytes("bin"));
        history.compress();
        print(
            "compressed: %.1f bytes a sample, %.1f a bin%n",
            history.bytes("sample"), history.bytes("bin"));
        read(database, history);
        measureCompressed(database, history);
      }
    }
    return 0;
  }

  private void measure(Database database, StoredHistory history) throws SQLException {
    history.settle();
    read(database, history);
    List<Double> fresh = new ArrayList<>();
    List<Double> repeated = new ArrayList<>();
    for (int trial = 0; trial < 4; trial++) {
      fresh.add(rowsPerS(database, true));
      repeated.add(rowsPerS(database, false));
      history.removeBench();
    }
    freshBefore = median(fresh);
    repeatedBefore = median(repeated);
    print("  written: fresh %.0f rows/s, repeated %.0f%n", freshBefore, repeatedBefore);
  }

  private void read(Database database, StoredHistory history) {
    StoredHistory.Soak soak = history.middleSoak();
    Took bins =
        took(
            () ->
                database.archive().bins(soak.tracker(), soak.fromSecond(), soak.toSecond()).size());
    Took chart = took(() -> history.chart(database, soak));
    Took year =
        took(() -> database.archive().history(soak.tracker(), 0, 4_102_444_800L, 1_000).size());
    print(
        "  ten hours: all bins %s, 2,000 rows for a chart %s; a year as 1,000 rows %s%n",
        bins, chart, year);
  }

  private void measureCompressed(Database database, StoredHistory history) throws SQLException {
    // Else they would be put to what earlier rounds left in a chunk that is compressed already.
    history.dropBench();
    rowsPerS(database, true);
    history.settle();
    double plain = history.benchBytes();
    history.compress();
    history.settle();
    print("  of a simulated rack: %.1f bytes a sample", plain);
    print(", compressed %.1f%n", history.benchBytes());
    double repeated = rowsPerS(database, false);
    batches = batches.stream().map(BenchHistoryCommand::shifted).toList();
    double late = rowsPerS(database, true);
    print(
        "  written: repeated %.0f rows/s (%.2f of not compressed), late %.0f (%.2f of fresh)%n",
        repeated, repeated / repeatedBefore, late, late / freshBefore);
  }

  private double rowsPerS(Database database, boolean isFresh) {
    long rows = batches.stream().mapToLong(List::size).sum();
    long startNs = System.nanoTime();
    for (List<Sample> batch : batches) {
      try (SoakStore.Unit unit = database.soakStore().begin()) {
        SoakStore.Written written = unit.writeSamples(batch);
        unit.commit();
        if (isFresh
            ? written.fresh().size() != batch.size()
            : written.duplicate() != batch.size()) {
          throw new CommandException(
              "what was stored is not what was written; nothing is measured");
        }
      }
    }
    return rows / ((System.nanoTime() - startNs) / 1e9);
  }

  /** As late lines come, between those that are there. */
  private static List<Sample> shifted(List<Sample> batch) {
    return batch.stream().map(s -> at(s, s.timeUs() + 500)).toList();
  }

  private static Sample at(Sample s, long timeUs) {
    return new Sample(
        s.tracker(),
        timeUs,
        s.temperatureC(),
        s.temperatureHeld(),
        s.gxDps(),
        s.gyDps(),
        s.gzDps(),
        s.axG(),
        s.ayG(),
        s.azG(),
        s.seq(),
        s.tMs());
  }

  /**
   * What reading took; the processor time does not grow with what else is at work.
   *
   * @param here time of the reading thread's processor, ms; the server's is not in it
   */
  private record Took(double ms, double here) {
    @Override
    public String toString() {
      return String.format(Locale.ROOT, "%.0f ms (%.0f of a processor here)", ms, here);
    }
  }

  private static Took took(Runnable read) {
    ThreadMXBean threads = ManagementFactory.getThreadMXBean();
    List<Double> ms = new ArrayList<>();
    List<Double> here = new ArrayList<>();
    for (int trial = 0; trial < TRIALS; trial++) {
      long startNs = System.nanoTime();
      long cpuNs = threads.getCurrentThreadCpuTime();
      read.run();
      ms.add((System.nanoTime() - startNs) / 1e6);
      here.add((threads.getCurrentThreadCpuTime() - cpuNs) / 1e6);
    }
    return new Took(median(ms), median(here));
  }

  /** The first one only warms up. */
  private static double median(List<Double> all) {
    List<Double> counted = all.stream().skip(1).sorted().toList();
    return counted.get(counted.size() / 2);
  }

  private void print(String form, Object... values) {
    spec.commandLine().getOut().printf(Locale.ROOT, form, values).flush();
  }
}
