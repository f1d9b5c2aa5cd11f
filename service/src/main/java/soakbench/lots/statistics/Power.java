package soakbench.lots.statistics;

import org.hipparchus.distribution.continuous.TDistribution;

/**
 * What difference so many units could have shown, and how many a difference needs: two-sided at the
 * 5 % level, seen in {@link #SHARE} of all trials. By Student's t twice (J. Cohen, 1988,
 * Statistical Power Analysis, chapter 2, has the same from the noncentral t, within 1 % from six
 * units on).
 */
public final class Power {
  /** How often a difference shall be seen. */
  public static final double SHARE = 0.8;

  private static final double LEVEL = 0.975;
  private static final int MOST = 1_000_000;

  private Power() {}

  /** Standard errors that a true difference must have. */
  public static double quantile(double df) {
    TDistribution t = new TDistribution(df);
    return t.inverseCumulativeProbability(LEVEL) + t.inverseCumulativeProbability(SHARE);
  }

  /**
   * The least number of units of each of two groups.
   *
   * @param first variance of one unit of the first group, above 0
   * @param second likewise
   * @param difference wanted, above 0
   * @return at least 2; {@value #MOST} stands for that or more
   */
  public static int unitsOfEach(double first, double second, double difference) {
    double ratio = (first + second) / (difference * difference);
    double df = MOST;
    double each = 0;
    // Few units know their spread worse, which takes more units: settles within some rounds.
    for (int round = 0; round < 20; round++) {
      each = Math.min(MOST, Math.max(2, ratio * quantile(df) * quantile(df)));
      df = df(first, second, each);
    }
    return (int) Math.ceil(each - 1e-9);
  }

  private static double df(double first, double second, double each) {
    return (each - 1) * (first + second) * (first + second) / (first * first + second * second);
  }
}
