package soakbench.readiness.estimator;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/**
 * How often the program's own ready had come by the times that were told, whatever the moment at
 * which they were told: where they mean what they say, by the earliest in 5 %, by the expected in
 * half, by the latest in 95 % of the moments. Moments that the outcome chooses (half of the way to
 * ready) can't show that: a tracker that is ready early is asked early there, before it can have
 * shown that it is one of the quick.
 */
final class Reliability {
  private static final int EVERY_S = 60;
  private static final int EARLIEST = 1;
  private static final int EXPECTED = 0;
  private static final int LATEST = 2;

  private final int[] told = new int[3];
  private final int[] come = new int[3];
  private final List<Double> lagS = new ArrayList<>();

  /** Share of the moments in which ready had come by the expected time. */
  double byExpected() {
    return share(EXPECTED);
  }

  double byEarliest() {
    return share(EARLIEST);
  }

  double byLatest() {
    return share(LATEST);
  }

  /** How much later than the truth ready first came, median, s. */
  double lagS() {
    return lagS.stream().sorted().skip(lagS.size() / 2).findFirst().orElse(Double.NaN);
  }

  /** Takes what was told of one run, until it or the truth is ready. */
  void add(TrackedRun run, Course c) {
    int own = first(c.ready());
    int truth = first(run.ready);
    if (own < TrackedRun.SECONDS && truth < TrackedRun.SECONDS) {
      lagS.add((double) own - truth);
    }
    int s = 0;
    while (s < own) {
      double[] times = c.forecasts()[s];
      for (int k = 0; times != null && k < told.length; k++) {
        take(run, s, k, times[k], own);
      }
      s += times == null ? 1 : EVERY_S;
    }
  }

  /** Counts where the time told lies in the hour and nobody touches the tracker until then. */
  private void take(TrackedRun run, int s, int k, double timeS, int own) {
    if (timeS < TrackedRun.SECONDS && !run.disturbed(s - 60.0, timeS)) {
      told[k]++;
      come[k] += own <= timeS + 1 ? 1 : 0;
    }
  }

  private static int first(boolean[] mask) {
    int s = 0;
    while (s < mask.length && !mask[s]) {
      s++;
    }
    return s;
  }

  private double share(int k) {
    return come[k] / (double) told[k];
  }

  void print() {
    System.out.printf(
        Locale.ROOT,
        "   whatever the moment, own ready by the earliest %.2f (of %d), by the expected %.2f (%d),"
            + " by the latest %.2f (%d); own after true %.0f s%n",
        byEarliest(),
        told[EARLIEST],
        byExpected(),
        told[EXPECTED],
        byLatest(),
        told[LATEST],
        lagS());
  }
}
