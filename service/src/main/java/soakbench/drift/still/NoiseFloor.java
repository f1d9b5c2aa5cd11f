package soakbench.drift.still;

import java.util.Arrays;

/**
 * A unit's own noise while it lies still: a low quantile of the variances of its recent windows, so
 * that motion in up to three quarters of them does not lift it. Not thread-safe.
 */
public final class NoiseFloor {
  private static final int KEEP = 120;
  private static final double QUANTILE = 0.2;
  private static final double QUANTILE_Z = -0.8416;

  private final double[][] recent = new double[3][KEEP];
  private final double[][] sorted = new double[3][KEEP];
  private final double[] floor = new double[3];
  private double stepDps = Double.POSITIVE_INFINITY;
  private int seen;

  public void accept(double[] variance, int count, double seenStepDps) {
    if (seenStepDps > 0) {
      stepDps = Math.min(stepDps, seenStepDps);
    }
    for (int i = 0; i < 3; i++) {
      sort(sorted[i], recent[i][seen % KEEP], variance[i]);
      recent[i][seen % KEEP] = variance[i];
    }
    seen++;
    // The floor moves slowly.
    if (seen <= 10 || seen % 10 == 0) {
      update(count);
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

  private void update(int count) {
    int n = Math.min(seen, KEEP);
    double quantum = stepDps < Double.POSITIVE_INFINITY ? stepDps * stepDps / 12 : 0;
    for (int i = 0; i < 3; i++) {
      double low = sorted[i][(int) (QUANTILE * (n - 1))];
      double fromLow = low / lowQuantileOfChiSquare(count - 1);
      // A step coarser than the noise leaves many windows without any variance: there the low
      // quantile is nothing, and the median has to do.
      floor[i] = fromLow > quantum ? fromLow : Math.max(quantum, sorted[i][n / 2]);
    }
  }

  /** Variance over floor, mean of the three axes; 1 while the floor is not known. */
  double ratio(double[] variance, int count) {
    if (seen == 0) {
      return 1;
    }
    double sum = 0;
    for (int i = 0; i < 3; i++) {
      sum += floor[i] > 0 ? variance[i] / floor[i] : variance[i] > 0 ? 1e6 : 1;
    }
    return sum / 3;
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
