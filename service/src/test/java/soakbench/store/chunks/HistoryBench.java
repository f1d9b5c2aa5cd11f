package soakbench.store.chunks;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;
import soakbench.store.Database;
import soakbench.store.server.DatabaseSettings;
import soakbench.store.server.KillableServer;

/** What measurements beside a long history share: how long it is, and where it is stored. */
abstract class HistoryBench implements Callable<Integer> {
  /** Once, ten times and a hundred times as much. */
  static final double[] PARTS = {0.01, 0.1, 1};

  @Option(
      names = "--millions",
      defaultValue = "18",
      description = "samples in the end, millions (default ${DEFAULT-VALUE}); 0.18 a soak")
  private double millions;

  @Option(
      names = "--db",
      paramLabel = "URL",
      description = "an empty database of a given server in place of one of its own; it is filled")
  private String url;

  @Spec private CommandSpec spec;

  @Override
  public final Integer call() throws Exception {
    if (url != null) {
      measure(DatabaseSettings.url(url));
      return 0;
    }
    Path folder = Files.createTempDirectory("soakbench-bench-");
    try (KillableServer server = new KillableServer(folder)) {
      measure(DatabaseSettings.url(server.url()));
    }
    return 0;
  }

  /**
   * Measures.
   *
   * @param settings of a server that goes on when the program is done with its database
   */
  abstract void measure(DatabaseSettings settings) throws Exception;

  /** Stores what is missing to this part of all, and says so. */
  final void grow(Database database, StoredHistory history, double part) {
    long startNs = System.nanoTime();
    history.growTo(database, Math.round(part * millions * 1e6));
    double s = (System.nanoTime() - startNs) / 1e9;
    print("%.2f million samples stored (%.0f s)%n", history.samples() / 1e6, s);
  }

  final void print(String form, Object... values) {
    spec.commandLine().getOut().printf(Locale.ROOT, form, values).flush();
  }

  static double median(List<Double> all) {
    return all.stream().sorted().toList().get(all.size() / 2);
  }
}
