package soakbench.drift.still;

import java.util.ArrayDeque;
import java.util.Deque;
import soakbench.model.Bin;
import soakbench.model.Bin.Channel;

/**
 * The newest seconds, as many as it takes to see at least five readings, ten at most. Not
 * thread-safe.
 */
public final class PooledWindow {
  /** Fewer readings than this in a window can't show stillness. */
  public static final int LEAST_READINGS = 5;

  /** Longest window that slow streams are pooled over, s. */
  static final int LONGEST_WINDOW_S = 10;

  private final Deque<Bin> bins = new ArrayDeque<>();
  private int count;

  void add(Bin bin) {
    bins.addLast(bin);
    count += bin.rateCount();
    while (bins.size() > 1 && (tooOld(bin) || enoughWithoutFirst())) {
      count -= bins.removeFirst().rateCount();
    }
  }

  private boolean tooOld(Bin newest) {
    return newest.second() - bins.getFirst().second() >= LONGEST_WINDOW_S;
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
