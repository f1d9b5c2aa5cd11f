package soakbench.drift.still;

import java.io.Serializable;
import java.util.ArrayDeque;
import java.util.Arrays;
import java.util.Deque;
import soakbench.model.Bin;
import soakbench.model.Bin.Channel;

/**
 * The newest seconds, as many as it takes to see at least five readings, no more than some ten
 * seconds. A line lost now and then leaves a stream of one reading in two seconds its five; one
 * that is slower is told by the median of its spacings, not by a single one. Not thread-safe.
 */
public final class PooledWindow implements Serializable {
  /** Fewer readings than this in a window can't show stillness. */
  public static final int LEAST_READINGS = 5;

  /** Longest time from first to last reading that slow streams are pooled over, s. */
  static final int LONGEST_WINDOW_S = 10;

  /** How far a stamp may be off for being a second's or a line's, s. */
  private static final double LOOSE_S = 0.5;

  /** Slower than this can't show motion, s a reading; a clock's skew and jitter beside it. */
  private static final double SLOWEST_S = 2.1;

  private static final int SPACINGS = 9;

  /** Less is a difference of arithmetic, deg/s. */
  private static final double LEAST_STEP_DPS = 1e-6;

  private final Deque<Bin> bins = new ArrayDeque<>();
  private final double[] spacingS = new double[SPACINGS];
  private int spacings;
  private Bin before;
  private int count;

  void add(Bin bin) {
    before = bins.isEmpty() ? bin : bins.getLast();
    if (before != bin) {
      spacingS[spacings % SPACINGS] = (bin.firstUs() - before.firstUs()) / 1e6 / before.rateCount();
      spacings++;
    }
    bins.addLast(bin);
    count += bin.rateCount();
    while (bins.size() > 1 && (tooOld(bin) || enoughWithoutFirst())) {
      count -= bins.removeFirst().rateCount();
    }
  }

  private boolean tooOld(Bin newest) {
    return newest.firstUs() - bins.getFirst().firstUs() > (LONGEST_WINDOW_S + LOOSE_S) * 1e6;
  }

  /** Whether readings come too slowly to show motion. */
  boolean tooSlow() {
    return count < LEAST_READINGS || median() > SLOWEST_S;
  }

  private double median() {
    int n = Math.min(spacings, SPACINGS);
    double[] sorted = Arrays.copyOf(spacingS, n);
    Arrays.sort(sorted);
    return n == 0 ? 0 : sorted[n / 2];
  }

  /**
   * The least difference between two readings of an axis that the newest second shows, deg/s; where
   * it has one reading alone, to the one before it; NaN for none.
   */
  double stepDps() {
    Bin newest = bins.getLast();
    double step = newest.gyroStepDps();
    if (newest.rateCount() == 1 && before.rateCount() == 1) {
      for (int axis = 0; axis < 3; axis++) {
        double by = Math.abs(newest.gyroDps()[axis].mean() - before.gyroDps()[axis].mean());
        step = by > LEAST_STEP_DPS && !(step < by) ? by : step;
      }
    }
    return step;
  }

  /** How many windows a reading is in, about. */
  int shared() {
    return bins.size();
  }

  private boolean enoughWithoutFirst() {
    return count - bins.getFirst().rateCount() >= LEAST_READINGS;
  }

  int count() {
    return count;
  }

  /** Variance of all readings in the window about their common mean, x y z. */
  double[] variance() {
    double[] out = new double[3];
    for (int axis = 0; axis < 3; axis++) {
      double mean = 0;
      for (Bin b : bins) {
        Channel c = b.gyroDps()[axis];
        mean += c.mean() * c.count() / count;
      }
      double sum = 0;
      for (Bin b : bins) {
        Channel c = b.gyroDps()[axis];
        double d = c.mean() - mean;
        sum += c.count() * d * d + (c.count() > 1 ? (c.count() - 1) * c.sd() * c.sd() : 0);
      }
      out[axis] = sum / (count - 1);
    }
    return out;
  }
}
