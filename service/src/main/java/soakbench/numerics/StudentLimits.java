package soakbench.numerics;

import org.hipparchus.distribution.continuous.TDistribution;

/**
 * Half a 95 % interval of Student's t in standard errors, and the degrees of freedom that such an
 * interval has. From six degrees on by the expansion about the normal quantile (Fisher and Cornish,
 * 1960, Technometrics 2, 209 to 225), good to 0.002 there; a table of all trackers asks for
 * thousands of them.
 */
public final class StudentLimits {
  private static final double NORMAL_95 = 1.959964;
  private static final double FEW = 6;

  /** Factors of 1 / degrees, of its square and of its cube. */
  private static final double[] EXPANSION = expansion(NORMAL_95);

  private StudentLimits() {}

  private static double[] expansion(double z) {
    double z2 = z * z;
    return new double[] {
      z * (z2 + 1) / 4,
      z * (5 * z2 * z2 + 16 * z2 + 3) / 96,
      z * (3 * z2 * z2 * z2 + 19 * z2 * z2 + 17 * z2 - 15) / 384
    };
  }

  /**
   * Standard errors from the middle to a limit.
   *
   * @param degrees at least 1; infinite for the normal distribution
   */
  public static double limitsSe(double degrees) {
    if (degrees < FEW) {
      return new TDistribution(Math.max(1, degrees)).inverseCumulativeProbability(0.975);
    }
    double x = 1 / degrees;
    return NORMAL_95 + x * (EXPANSION[0] + x * (EXPANSION[1] + x * EXPANSION[2]));
  }

  /**
   * The degrees of freedom of an interval, by the first two terms of the expansion.
   *
   * @param limitsSe standard errors from the middle to a limit
   * @return infinite where that is no more than the normal distribution's
   */
  public static double degreesOfFreedom(double limitsSe) {
    double more = limitsSe - NORMAL_95;
    double a = EXPANSION[0];
    double b = EXPANSION[1];
    return more <= 0 ? Double.POSITIVE_INFINITY : 2 * b / (Math.sqrt(a * a + 4 * b * more) - a);
  }
}
