package soakbench.bench;

import java.io.IOException;
import java.io.PrintWriter;
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
import soakbench.cli.options.CommandException;
import soakbench.cli.running.MonotonicClock;
import soakbench.live.SampleSink;
import soakbench.live.SoakStore;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Sample;
import soakbench.store.Database;
import soakbench.store.server.DatabaseSettings;

/**
 * How fast samples are stored, and stored and judged, held against COPY of the same rows in the
 * same run. Each way takes the same batches with one commit each, into tables emptied before; what
 * is printed is the median of the rounds, of which the first is not counted: there the program is
 * still being compiled. What judging takes then stands in a row of its own.
 */
@Command(
    name = "store",
    description =
        "Measures how fast samples are stored, fresh and repeated, beside PostgreSQL's own COPY.",
    mixinStandardHelpOptions = true,
    footer = {"", "Example: soakbench bench store --trackers 24 --rate-hz 100 --seconds 60"})
final class BenchStoreCommand implements Callable<Integer> {
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
      defaultValue = "60",
      description = "how much of each (default ${DEFAULT-VALUE})")
  private int seconds;

  @Option(
      names = "--batch",
      defaultValue = "5000",
      description = "samples a batch, of which each is committed (default ${DEFAULT-VALUE})")
  private int batchSize;

  @Option(
      names = "--rounds",
      defaultValue = "5",
      description = "how often each way is measured (default ${DEFAULT-VALUE})")
  private int rounds;

  @Option(
      names = "--db",
      paramLabel = "URL",
      description =
          "a given server in place of one of its own: an empty database,"
              + " jdbc:postgresql://HOST:PORT/NAME?user=USER, of a user who may CHECKPOINT."
              + " Its tables are emptied")
  private String url;

  @Spec private CommandSpec spec;

  private final List<Double> copied = new ArrayList<>();
  private final List<Double> fresh = new ArrayList<>();
  private final List<Double> repeated = new ArrayList<>();
  private final List<Double> judged = new ArrayList<>();
  private final List<Double> judgedAgain = new ArrayList<>();
  private List<List<Sample>> batches;
  private long rows;

  @Override
  public Integer call() throws IOException, SQLException {
    Path folder = Files.createTempDirectory("soakbench-bench-");
    List<Sample> samples = BenchSamples.of(trackers, rateHz, seconds, folder);
    rows = samples.size();
    batches = BenchSamples.batches(samples, batchSize);
    DatabaseSettings settings =
        url == null ? DatabaseSettings.embedded(folder.resolve("db")) : DatabaseSettings.url(url);
    try (Database database = Database.open(settings);
        TextCopy copy = TextCopy.beside(settings)) {
      measure(database, copy);
    }
    return 0;
  }

  private void measure(Database database, TextCopy copy) throws IOException, SQLException {
    List<byte[]> texts = batches.stream().map(TextCopy::text).toList();
    double plainBytes = 0;
    for (int round = 0; round <= rounds; round++) {
      copy.empty();
      copied.add(rowsPerS(copy, () -> copyAll(copy, texts)));
      fresh.add(rowsPerS(copy, () -> isTrue(write(database.soakStore()).fresh == rows)));
      repeated.add(rowsPerS(copy, () -> isTrue(write(database.soakStore()).duplicate == rows)));
      isTrue(copy.differences() == 0);
      plainBytes = copy.bytesPerSample(database.health().hypertables());
      copy.empty();
      SoakWatch watch = new SoakWatch(database.soakStore(), null, new MonotonicClock());
      watch.restore();
      judged.add(rowsPerS(copy, () -> isTrue(judge(watch).fresh == rows)));
      judgedAgain.add(rowsPerS(copy, () -> isTrue(judge(watch).duplicate == rows)));
    }
    print();
    printf("%-42s %8.1f bytes%n", "a sample with its key", plainBytes);
    if (database.health().compression()) {
      measureCompressed(database, copy, median(fresh), median(repeated));
    }
  }

  /** The same rows again, and as many between them, into chunks that are compressed. */
  private void measureCompressed(
      Database database, TextCopy copy, double freshBefore, double repeatedBefore)
      throws IOException, SQLException {
    copy.empty();
    write(database.soakStore());
    copy.compress();
    double bytes = copy.bytesPerSample(true);
    double repeated = rowsPerS(copy, () -> isTrue(write(database.soakStore()).duplicate == rows));
    batches = batches.stream().map(BenchStoreCommand::shifted).toList();
    double late = rowsPerS(copy, () -> isTrue(write(database.soakStore()).fresh == rows));
    printf("%-42s %8.1f bytes%n", "a sample, compressed", bytes);
    String form = "%-42s %8.0f rows/s  %5.2f of the same into chunks not compressed%n";
    printf(form, "samples, all repeated, compressed", repeated, repeated / repeatedBefore);
    printf(form, "samples, all late, compressed", late, late / freshBefore);
  }

  /** As late lines come, between those that are there. */
  private static List<Sample> shifted(List<Sample> batch) {
    return batch.stream()
        .map(
            s ->
                new Sample(
                    s.tracker(),
                    s.timeUs() + 500,
                    s.temperatureC(),
                    s.temperatureHeld(),
                    s.gxDps(),
                    s.gyDps(),
                    s.gzDps(),
                    s.axG(),
                    s.ayG(),
                    s.azG(),
                    s.seq(),
                    s.tMs()))
        .toList();
  }

  private interface Work {
    void run() throws IOException, SQLException;
  }

  private double rowsPerS(TextCopy copy, Work work) throws IOException, SQLException {
    copy.settle();
    long startNs = System.nanoTime();
    work.run();
    return rows / ((System.nanoTime() - startNs) / 1e9);
  }

  private static void copyAll(TextCopy copy, List<byte[]> texts) throws IOException, SQLException {
    for (byte[] text : texts) {
      copy.copy(text);
    }
  }

  private record Written(long fresh, long duplicate) {}

  private Written write(SoakStore store) {
    long fresh = 0;
    long duplicate = 0;
    for (List<Sample> batch : batches) {
      try (SoakStore.Unit unit = store.begin()) {
        SoakStore.Written written = unit.writeSamples(batch);
        unit.commit();
        fresh += written.fresh().size();
        duplicate += written.duplicate();
      }
    }
    return new Written(fresh, duplicate);
  }

  private Written judge(SoakWatch watch) {
    long fresh = 0;
    long duplicate = 0;
    for (List<Sample> batch : batches) {
      SampleSink.Outcome outcome = watch.accept(batch);
      fresh += outcome.accepted();
      duplicate += outcome.duplicate();
    }
    return new Written(fresh, duplicate);
  }

  private static void isTrue(boolean asExpected) {
    if (!asExpected) {
      throw new CommandException(
          "what was stored is not what was written; the figures would mean nothing");
    }
  }

  /** The first round only warms up. */
  private static double median(List<Double> ofRounds) {
    List<Double> counted = ofRounds.stream().skip(1).sorted().toList();
    return counted.get(counted.size() / 2);
  }

  private void print() {
    PrintWriter out = spec.commandLine().getOut();
    out.printf(
        Locale.ROOT,
        "%d rows of %d trackers, %d a batch, each batch committed; median of %d rounds%n",
        rows,
        trackers,
        batchSize,
        rounds);
    double copy = median(copied);
    row(out, "COPY text, the same key", copy, copy);
    row(out, "samples, all fresh", median(fresh), copy);
    row(out, "samples, all repeated", median(repeated), copy);
    row(out, "samples, bins and verdicts, all fresh", median(judged), copy);
    row(out, "samples, bins and verdicts, all repeated", median(judgedAgain), copy);
    row(out, "the same, fresh, in the first round", judged.get(0), copy);
    out.flush();
  }

  private void printf(String form, Object... values) {
    spec.commandLine().getOut().printf(Locale.ROOT, form, values).flush();
  }

  private static void row(PrintWriter out, String what, double rowsPerS, double of) {
    out.printf(
        Locale.ROOT, "%-42s %8.0f rows/s  %5.2f of COPY text%n", what, rowsPerS, rowsPerS / of);
  }
}
