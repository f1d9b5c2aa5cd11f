package soakbench.drift.still;

import java.io.Serializable;
import java.util.Arrays;
import org.hipparchus.distribution.continuous.FDistribution;

/**
 * A unit's own noise while it lies still: a low quantile of the variances of its recent windows,
 * each by what chi-square of as many readings has there, so that motion in up to three quarters of
 * them does not lift it, nor a window with fewer readings lower it. Not thread-safe.
 */
public final class NoiseFloor implements Serializable {
  private static final int KEEP = 120;
  private static final double QUANTILE = 0.2;
  private static final double QUANTILE_Z = -0.8416;

  /** Part of its windows' degrees of freedom that a low quantile keeps of them. */
  private static final double KEPT = 0.3;

  /** Noise may be so much more than the floor for a while without motion, of variances. */
  private static final double UNSTEADY = 1.3;

  /** Share of still windows that may be taken for motion: one in some three hundred hours. */
  private static final double MISTAKEN = 1e-6;

  private final double[][] recent = new double[3][KEEP];
  private final double[][] sorted = new double[3][KEEP];
  private final double[] floor = new double[3];
  private double stepDps = Double.POSITIVE_INFINITY;
  private int seen;

  public void accept(double[] variance, int count, double seenStepDps) {
    sawStep(seenStepDps);
    double low = lowQuantileOfChiSquare(count - 1);
    for (int i = 0; i < 3; i++) {
      sort(sorted[i], recent[i][seen % KEEP], variance[i] / low);
      recent[i][seen % KEEP] = variance[i] / low;
    }
    seen++;
    // The floor moves slowly.
    if (seen <= 10 || seen % 10 == 0) {
      update(low);
    }
  }

  /** A difference between two readings, deg/s; NaN for none. */
  void sawStep(double dps) {
    if (dps > 0) {
      stepDps = Math.min(stepDps, dps);
    }
  }

  /** Puts a value into its place, for the oldest where all places are taken. */
  private void sort(double[] values, double oldest, double value) {
    int n = Math.min(seen, KEEP);
    int from = seen < KEEP ? n : Arrays.binarySearch(values, 0, n, oldest);
    int found = Arrays.binarySearch(values, 0, n, value);
    int to = found < 0 ? -found - 1 : found;
    if (to > from) {
      to--;
      System.arraycopy(values, from + 1, values, from, to - from);
    } else {
      System.arraycopy(values, to, values, to + 1, from - to);
    }
    values[to] = value;
  }

  private void update(double low) {
    int n = Math.min(seen, KEEP);
    double quantum = quantum();
    for (int i = 0; i < 3; i++) {
      double fromLow = sorted[i][(int) (QUANTILE * (n - 1))];
      // A step coarser than the noise leaves many windows without any variance: there the low
      // quantile is nothing, and the median has to do.
      floor[i] = fromLow > quantum ? fromLow : Math.max(quantum, low * sorted[i][n / 2]);
    }
  }

  /**
   * Whether a window's variance is more than noise makes it by chance: the mean of the axes' ratios
   * to their floors against an F distribution. The floor is as uncertain as the few windows that it
   * comes from, so that in a soak's first seconds only what is clearly motion counts.
   *
   * @param variance of the window, x y z
   * @param count its readings
   * @param shared windows that a reading is in
   */
  boolean exceededBy(double[] variance, int count, int shared) {
    double ratio = ratio(variance) / UNSTEADY;
    double known = KEPT * (count - 1) * Math.min(seen, KEEP) / shared;
    return seen > 0
        && ratio > 1
        && new FDistribution(known, 3.0 * (count - 1)).cumulativeProbability(1 / ratio) < MISTAKEN;
  }

  /** Variance over floor, mean of the three axes. */
  private double ratio(double[] variance) {
    double sum = 0;
    for (int i = 0; i < 3; i++) {
      double least = Math.max(floor[i], quantum());
      sum += least > 0 ? variance[i] / least : variance[i] > 0 ? 1e6 : 1;
    }
    return sum / 3;
  }

  /** What rounding to a step alone makes. */
  private double quantum() {
    return stepDps() * stepDps() / 12;
  }

  /** Step of the rates, deg/s; 0 while none was seen. */
  double stepDps() {
    return stepDps < Double.POSITIVE_INFINITY ? stepDps : 0;
  }

  public double[] sd() {
    return new double[] {Math.sqrt(floor[0]), Math.sqrt(floor[1]), Math.sqrt(floor[2])};
  }

  /**
   * 20 % point of chi-square over its degrees of freedom (Wilson and Hilferty, Proc. NAS 17, 1931).
   */
  private static double lowQuantileOfChiSquare(int k) {
    double a = 2.0 / (9 * k);
    return Math.max(0.1, Math.pow(1 - a + QUANTILE_Z * Math.sqrt(a), 3));
  }
}
