package soakbench.drift.still;

import java.util.ArrayDeque;
import java.util.Deque;
import soakbench.model.Bin;

/**
 * Mean of the newest still seconds, at most a minute of them, without the very last one: a hand is
 * there before the second in which it is seen. Not thread-safe.
 */
public final class StillMean {
  private static final int LONGEST_S = 60;

  private final Deque<Bin> bins = new ArrayDeque<>();

  public void add(Bin bin) {
    bins.addLast(bin);
    if (bins.size() > LONGEST_S + 1) {
      bins.removeFirst();
    }
  }

  public void clear() {
    bins.clear();
  }

  /** How many seconds the mean is of. */
  public int seconds() {
    return Math.max(0, bins.size() - 1);
  }

  /** deg/s, x y z; NaN where there are none. */
  public double[] biasDps() {
    double[] mean = new double[3];
    for (int i = 0; i < 3; i++) {
      int axis = i;
      mean[i] =
          bins.stream()
              .limit(seconds())
              .mapToDouble(bin -> bin.gyroDps()[axis].mean())
              .average()
              .orElse(Double.NaN);
    }
    return mean;
  }

  /** degC; NaN where none was measured. */
  public double temperatureC() {
    return bins.stream()
        .limit(seconds())
        .filter(bin -> bin.temperatureC().count() > 0)
        .mapToDouble(bin -> bin.temperatureC().mean())
        .average()
        .orElse(Double.NaN);
  }
}
