package soakbench.readiness.estimator;

import org.hipparchus.distribution.continuous.NormalDistribution;

/** The standard normal distribution, from a table: asked for thousands of times a second. */
final class Normal {
  private static final double REACH = 8;
  private static final int PER_UNIT = 256;
  private static final double[] BELOW = table();
  private static final double PEAK = 1 / Math.sqrt(2 * Math.PI);

  private Normal() {}

  private static double[] table() {
    NormalDistribution normal = new NormalDistribution();
    double[] out = new double[(int) (2 * REACH * PER_UNIT) + 2];
    for (int i = 0; i < out.length; i++) {
      out[i] = normal.cumulativeProbability(i / (double) PER_UNIT - REACH);
    }
    return out;
  }

  /** Share of the distribution below x; right to 1e-6. */
  static double below(double x) {
    if (x <= -REACH) {
      return 0;
    }
    if (x >= REACH) {
      return 1;
    }
    double at = (x + REACH) * PER_UNIT;
    int i = (int) at;
    return BELOW[i] + (at - i) * (BELOW[i + 1] - BELOW[i]);
  }

  static double density(double x) {
    return PEAK * Math.exp(-0.5 * x * x);
  }
}
