package soakbench.drift;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Collection;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.openjdk.jmh.results.RunResult;
import org.openjdk.jmh.runner.Runner;
import org.openjdk.jmh.runner.RunnerException;
import org.openjdk.jmh.runner.options.OptionsBuilder;
import org.openjdk.jmh.runner.options.VerboseMode;
import soakbench.numerics.allan.AllanBenchmark;

/** What figures cost, and that they cost no more than in proportion to the soak's length. */
@Tag("bench")
class FigureCostTest {
  private static final double MOST_ANALYSIS_MS = 150;
  private static final double MOST_ALLAN_MS = 120;

  /** Eight times the length, with some leave for caches that no longer hold it. */
  private static final double MOST_GROWTH = 8 * 1.6;

  @Test
  void aWholeAnalysisOfTenHoursIsQuickAndGrowsWithTheLength() throws RunnerException {
    Map<Integer, Double> analysis = times(AnalysisBenchmark.class, "analysis", "seconds");
    assertThat(analysis.get(36_000)).as("ms").isLessThan(MOST_ANALYSIS_MS);
    assertThat(analysis.get(36_000) / analysis.get(4_500)).as("growth").isLessThan(MOST_GROWTH);
  }

  @Test
  void anAllanDeviationOfMillionsIsQuickAndGrowsWithTheLength() throws RunnerException {
    Map<Integer, Double> allan = times(AllanBenchmark.class, "octaves", "readings");
    assertThat(allan.get(3_600_000)).as("ms").isLessThan(MOST_ALLAN_MS);
    assertThat(allan.get(3_600_000) / allan.get(450_000)).as("growth").isLessThan(MOST_GROWTH);
  }

  /** Milliseconds by length; prints those of the plain way beside them. */
  private static Map<Integer, Double> times(Class<?> benchmark, String measured, String length)
      throws RunnerException {
    Collection<RunResult> results =
        new Runner(
                new OptionsBuilder()
                    .include("\\." + benchmark.getSimpleName() + "\\.")
                    .forks(0)
                    .shouldFailOnError(true)
                    .verbosity(VerboseMode.SILENT)
                    .build())
            .run();
    Map<Integer, Map<String, Double>> all = new TreeMap<>();
    for (RunResult r : results) {
      int n = Integer.parseInt(r.getParams().getParam(length));
      all.computeIfAbsent(n, k -> new TreeMap<>())
          .put(r.getPrimaryResult().getLabel(), r.getPrimaryResult().getScore());
    }
    Map<Integer, Double> times = new TreeMap<>();
    all.forEach(
        (n, scores) -> {
          System.out.printf(Locale.ROOT, "%d %s, ms:", n, length);
          scores.forEach((name, ms) -> System.out.printf(Locale.ROOT, " %s %.1f", name, ms));
          System.out.println();
          times.put(n, scores.get(measured));
        });
    assertThat(times).hasSize(4);
    return times;
  }
}
