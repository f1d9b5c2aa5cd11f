package soakbench.lots.statistics;

import soakbench.model.Estimate;

/**
 * How much room a process leaves to its limits: the distance of its mean to the nearer limit, in
 * three standard deviations (Cpk).
 */
public final class Capability {
  /** Of fewer the interval says nothing. */
  public static final int LEAST = 25;

  private static final double NORMAL_95 = 1.959964;

  private Capability() {}

  /**
   * Cpk with 95 % limits (A. F. Bissell, 1990, "How reliable is your capability index?", Appl.
   * Statist. 39, 331 to 340), for figures that follow the normal distribution.
   *
   * @param figures no NaN
   * @param low lower limit; negative infinity for none
   * @param high upper limit; infinity for none
   */
  public static Estimate cpk(double[] figures, double low, double high) {
    if (figures.length < LEAST) {
      return Estimate.unknown("needs %d units; there are %d".formatted(LEAST, figures.length));
    }
    Moments m = Moments.of(figures);
    if (!(m.variance() > 0)) {
      return Estimate.unknown("all units have the same value");
    }
    double sd = Math.sqrt(m.variance());
    double cpk = Math.min(high - m.mean(), m.mean() - low) / (3 * sd);
    double se = Math.sqrt(1.0 / (9 * m.count()) + cpk * cpk / (2.0 * (m.count() - 1)));
    return Estimate.of(cpk, se, NORMAL_95);
  }
}
