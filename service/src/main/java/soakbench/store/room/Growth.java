package soakbench.store.room;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.concurrent.TimeUnit;
import org.hipparchus.distribution.continuous.TDistribution;
import org.hipparchus.stat.descriptive.StreamingStatistics;
import soakbench.model.Estimate;

/**
 * By how much something grows, from what it was each hour of the last week: the mean of the hours'
 * differences, its interval by Student's t over them. Not thread-safe.
 */
final class Growth {
  private static final long HOUR_NS = TimeUnit.HOURS.toNanos(1);
  private static final int MOST_HOURS = 168;
  private static final int LEAST_HOURS = 3;
  private static final double HOURS_A_DAY = 24;

  private record At(long ns, long bytes) {}

  private final Deque<At> hours = new ArrayDeque<>();

  /**
   * @param ns by a clock that never steps
   */
  void take(long ns, long bytes) {
    if (hours.isEmpty() || ns - hours.getLast().ns() >= HOUR_NS) {
      hours.addLast(new At(ns, bytes));
    }
    if (hours.size() > MOST_HOURS + 1) {
      hours.removeFirst();
    }
  }

  /** Bytes a day, 95 %. */
  Estimate bytesPerDay() {
    int n = hours.size() - 1;
    if (n < LEAST_HOURS) {
      return Estimate.unknown(
          "it is watched since the start, for %d whole hours yet; %d are needed"
              .formatted(Math.max(0, n), LEAST_HOURS));
    }
    StreamingStatistics perDay = new StreamingStatistics();
    At before = null;
    for (At at : hours) {
      if (before != null) {
        double inHours = (double) (at.ns() - before.ns()) / HOUR_NS;
        perDay.addValue((at.bytes() - before.bytes()) / inHours * HOURS_A_DAY);
      }
      before = at;
    }
    double se = perDay.getStandardDeviation() / Math.sqrt(n);
    return Estimate.of(
        perDay.getMean(), se, new TDistribution(n - 1.0).inverseCumulativeProbability(0.975));
  }
}
