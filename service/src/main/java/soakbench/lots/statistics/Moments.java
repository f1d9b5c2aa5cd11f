package soakbench.lots.statistics;

import org.hipparchus.stat.StatUtils;

/**
 * Mean and spread of one group's figures.
 *
 * @param count how many
 * @param mean of them
 * @param variance about their mean, by one less than count; 0 of a single one
 */
record Moments(int count, double mean, double variance) {

  /**
   * Those of some figures.
   *
   * @param figures at least one, no NaN
   * @throws IllegalArgumentException if there is none
   */
  static Moments of(double[] figures) {
    if (figures.length == 0) {
      throw new IllegalArgumentException("a group without figures has no mean");
    }
    // From the first figure on, so that figures that share their leading digits keep their
    // precision, and equal ones have a variance of exactly zero.
    double first = figures[0];
    double[] off = new double[figures.length];
    for (int i = 0; i < off.length; i++) {
      off[i] = figures[i] - first;
    }
    double mean = StatUtils.mean(off);
    double variance = figures.length == 1 ? 0 : StatUtils.variance(off, mean);
    return new Moments(figures.length, first + mean, variance);
  }

  /** Squared standard error of the mean. */
  double meanVariance() {
    return variance / count;
  }
}
