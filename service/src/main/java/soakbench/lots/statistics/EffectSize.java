package soakbench.lots.statistics;

import org.hipparchus.special.Gamma;
import soakbench.model.Estimate;

/**
 * A difference of two means in their common standard deviation: Hedges' g (L. V. Hedges, 1981,
 * "Distribution theory for Glass's estimator of effect size and related estimators", J. Educ.
 * Statist. 6, 107 to 128).
 */
public final class EffectSize {
  private static final double NORMAL_95 = 1.959964;

  private EffectSize() {}

  /**
   * Hedges' g, second less first, freed of its small-sample bias, with the limits of its normal
   * approximation (L. V. Hedges and I. Olkin, 1985, Statistical Methods for Meta-Analysis, 86).
   *
   * @param a two or more figures, no NaN
   * @param b likewise
   * @throws IllegalArgumentException if one has a single figure, or neither any spread
   */
  public static Estimate of(double[] a, double[] b) {
    Moments first = Moments.of(a);
    Moments second = Moments.of(b);
    int df = first.count() + second.count() - 2;
    double squares =
        first.variance() * (first.count() - 1) + second.variance() * (second.count() - 1);
    if (first.count() < 2 || second.count() < 2 || !(squares > 0)) {
      throw new IllegalArgumentException("groups without spread have no effect size");
    }
    double d = (second.mean() - first.mean()) / Math.sqrt(squares / df);
    double g = d * correction(df);
    double units = (double) first.count() * second.count() / (first.count() + second.count());
    double variance = 1 / units + g * g / (2.0 * (first.count() + second.count()));
    return Estimate.of(g, Math.sqrt(variance), NORMAL_95);
  }

  /** How much too great the plain ratio comes out on average: Gamma(df/2) / (...). */
  private static double correction(int df) {
    return Math.exp(Gamma.logGamma(df / 2.0) - Gamma.logGamma((df - 1) / 2.0))
        / Math.sqrt(df / 2.0);
  }
}
