package soakbench.store.chunks;

import java.lang.management.ManagementFactory;
import java.lang.management.ThreadMXBean;
import java.nio.file.Files;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import picocli.CommandLine.Command;
import soakbench.bench.BenchSamples;
import soakbench.cli.options.CommandException;
import soakbench.live.SoakStore;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.store.Database;
import soakbench.store.SoakArchive;
import soakbench.store.server.DatabaseSettings;

/**
 * What a long history costs: one soak of ten hours read, and samples written, where a hundredth, a
 * tenth and all of so many samples are stored; where there is TimescaleDB, then the same with all
 * of it compressed, and what a sample takes.
 */
@Command(
    name = "history",
    description = "Measures what a long history costs when reading and writing.",
    mixinStandardHelpOptions = true,
    footer = {
      "",
      "Example: bench history --millions 50 --db jdbc:postgresql://HOST/NAME?user=USER"
    })
public final class BenchHistoryCommand extends HistoryBench {
  private static final int TRIALS = 15;
  private static final int WRITES = 4;
  private static final int BATCH = 5_000;

  private List<List<Sample>> batches;

  @Override
  void measure(DatabaseSettings settings) throws Exception {
    batches =
        BenchSamples.batches(
            BenchSamples.of(24, 50, 60, Files.createTempDirectory("soakbench-bench-")), BATCH);
    Database.open(settings).close();
    try (StoredHistory history = StoredHistory.beside(settings)) {
      if (isMeasured(settings, history)) {
        measureCompressed(settings, history);
      }
    }
  }

  /** Returns whether chunks can be compressed there. */
  private boolean isMeasured(DatabaseSettings settings, StoredHistory history) throws SQLException {
    try (Database database = Database.open(settings)) {
      for (double part : PARTS) {
        grow(database, history, part);
        measure(database, history);
      }
      if (!database.health().compression()) {
        return false;
      }
      print("%.1f bytes a sample, %.1f a bin%n", history.bytes("sample"), history.bytes("bin"));
      history.compress();
      print(
          "compressed: %.1f bytes a sample, %.1f a bin%n",
          history.bytes("sample"), history.bytes("bin"));
      read(database, history);
      return true;
    }
  }

  private void measure(Database database, StoredHistory history) throws SQLException {
    history.settle();
    read(database, history);
    List<Double> fresh = new ArrayList<>();
    List<Double> repeated = new ArrayList<>();
    for (int trial = 0; trial < WRITES; trial++) {
      fresh.add(rowsPerS(database, batches, true));
      repeated.add(rowsPerS(database, batches, false));
      history.removeBench();
    }
    print("  written: fresh %.0f rows/s, repeated %.0f%n", counted(fresh), counted(repeated));
  }

  private void read(Database database, StoredHistory history) {
    Soak soak = history.middleSoak();
    SoakArchive archive = database.archive();
    long fromSecond = soak.startSecond();
    long toSecond = soak.endSecond() + 1;
    print(
        "  ten hours: all bins %s, COPY of them as text %s, 2,000 rows for a chart %s; a year as"
            + " 1,000 rows %s%n",
        took(() -> archive.bins(soak.tracker(), fromSecond, toSecond)),
        took(() -> history.copyBins(soak)),
        took(() -> archive.binSpans(soak, fromSecond, toSecond, 2_000)),
        took(() -> archive.history(soak.tracker(), 0, 4_102_444_800L, 1_000)));
  }

  /**
   * Each round has its own chunk, of which the same is asked before and after it is compressed,
   * each time on new connections: what a server's process did before matters to how it does this.
   */
  private void measureCompressed(DatabaseSettings settings, StoredHistory history)
      throws SQLException {
    List<List<Sample>> late = batches.stream().map(BenchHistoryCommand::shifted).toList();
    List<Double> repeatedRatio = new ArrayList<>();
    List<Double> lateRatio = new ArrayList<>();
    for (int trial = 0; trial < WRITES; trial++) {
      history.dropBench();
      double fresh = rowsPerS(settings, batches, true);
      double repeated = rowsPerS(settings, batches, false);
      history.settle();
      double plain = history.benchBytes();
      history.compress();
      history.settle();
      if (trial == 0) {
        print("  of a simulated rack: %.1f bytes a sample", plain);
        print(", compressed %.1f%n", history.benchBytes());
      }
      repeatedRatio.add(rowsPerS(settings, batches, false) / repeated);
      lateRatio.add(rowsPerS(settings, late, true) / fresh);
    }
    print(
        "  written: repeated %.2f of not compressed (%.2f to %.2f), late %.2f of fresh (%.2f to"
            + " %.2f)%n",
        counted(repeatedRatio),
        Collections.min(repeatedRatio),
        Collections.max(repeatedRatio),
        counted(lateRatio),
        Collections.min(lateRatio),
        Collections.max(lateRatio));
  }

  private static double rowsPerS(
      DatabaseSettings settings, List<List<Sample>> batches, boolean isFresh) {
    try (Database database = Database.open(settings)) {
      return rowsPerS(database, batches, isFresh);
    }
  }

  private static double rowsPerS(Database database, List<List<Sample>> batches, boolean isFresh) {
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
    return new Took(counted(ms), counted(here));
  }

  /** The median; the first one only warms up. */
  private static double counted(List<Double> all) {
    return median(all.subList(1, all.size()));
  }
}
