package soakbench.readiness;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Collection;
import java.util.Locale;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.openjdk.jmh.results.RunResult;
import org.openjdk.jmh.runner.Runner;
import org.openjdk.jmh.runner.RunnerException;
import org.openjdk.jmh.runner.options.OptionsBuilder;
import org.openjdk.jmh.runner.options.VerboseMode;

/** A rack of a thousand must not become dearer to judge the longer it lies there. */
@Tag("bench")
class JudgeCostTest {

  /** One in twenty seconds of a core for a thousand trackers that lie there. */
  private static final double MOST_US_A_BIN = 50;

  /**
   * Until the fit's blocks are as many as it keeps, the cost grows about twofold, and then no more;
   * with all the blocks of ten hours it would be eightfold.
   */
  private static final double MOST_GROWTH = 4;

  @Test
  void judgingCostsTheSameAfterTenMinutesAndAfterTenHours() throws RunnerException {
    Collection<RunResult> results =
        new Runner(
                new OptionsBuilder()
                    .include("\\." + JudgeBenchmark.class.getSimpleName() + "\\.")
                    .forks(0)
                    .shouldFailOnError(true)
                    .verbosity(VerboseMode.SILENT)
                    .build())
            .run();
    assertThat(results).hasSize(4);
    for (String turned : new String[] {"0", "120"}) {
      double young = microseconds(results, "600", turned);
      double old = microseconds(results, "36000", turned);
      System.out.printf(
          Locale.ROOT,
          "judging a second, turned over every %s s: %.1f us at 10 min, %.1f us at 10 h%n",
          turned,
          young,
          old);
      assertThat(old / young).as("growth, turned every %s s", turned).isLessThan(MOST_GROWTH);
    }
    assertThat(microseconds(results, "36000", "0")).as("us a second").isLessThan(MOST_US_A_BIN);
  }

  private static double microseconds(Collection<RunResult> results, String ageS, String turned) {
    return results.stream()
        .filter(r -> r.getParams().getParam("ageS").equals(ageS))
        .filter(r -> r.getParams().getParam("turnedEveryS").equals(turned))
        .mapToDouble(r -> r.getPrimaryResult().getScore())
        .findFirst()
        .orElseThrow();
  }
}
