package soakbench.numerics;

import org.hipparchus.analysis.integration.gauss.GaussIntegrator;
import org.hipparchus.analysis.integration.gauss.GaussIntegratorFactory;
import org.hipparchus.analysis.solvers.BracketingNthOrderBrentSolver;
import org.hipparchus.distribution.continuous.GammaDistribution;
import org.hipparchus.distribution.continuous.NormalDistribution;
import org.hipparchus.special.Gamma;
import org.hipparchus.util.FastMath;

/**
 * The range of some independent normal means in units of a standard deviation that is itself known
 * from so many degrees of freedom only: Tukey's q (H. L. Harter, 1960, "Tables of range and
 * studentized range", Ann. Math. Statist. 31, 1122 to 1147). A double integral by Gauss and
 * Legendre: the range given the deviation, then over the deviation. Accurate to about 1e-9.
 */
public final class StudentizedRange {
  private static final NormalDistribution NORMAL = new NormalDistribution();
  private static final int POINTS = 128;

  /** Beyond this a standard normal lies with a chance under 1e-15. */
  private static final double FARTHEST = 8.2;

  /** Chance left out at each end of the deviation. */
  private static final double REST = 1e-12;

  private final int means;
  private final double[] scale = new double[POINTS];
  private final double[] scaleWeight = new double[POINTS];
  private final double[] place = new double[POINTS];
  private final double[] below = new double[POINTS];
  private final double[] placeWeight = new double[POINTS];

  /**
   * The distribution for a number of means.
   *
   * @param means at least 2
   * @param degreesOfFreedom of the standard deviation, at least 1, need not be whole
   * @throws IllegalArgumentException if one is less
   */
  public StudentizedRange(int means, double degreesOfFreedom) {
    if (means < 2 || !(degreesOfFreedom >= 1)) {
      throw new IllegalArgumentException(
          "%d means with %s degrees of freedom; a studentized range takes 2 or more, with 1 or more"
              .formatted(means, degreesOfFreedom));
    }
    this.means = means;
    layScales(degreesOfFreedom);
    layPlaces();
  }

  /** Deviations by their logarithm, which keeps the few degrees of freedom smooth. */
  private void layScales(double df) {
    GammaDistribution square = new GammaDistribution(df / 2, 2 / df);
    double low = lowest(square, df / 2) / 2;
    double high = Math.log(square.inverseCumulativeProbability(1 - REST)) / 2;
    GaussIntegrator logs = new GaussIntegratorFactory().legendre(POINTS, low, high);
    for (int i = 0; i < POINTS; i++) {
      scale[i] = Math.exp(logs.getPoint(i));
      double s2 = scale[i] * scale[i];
      scaleWeight[i] = logs.getWeight(i) * 2 * s2 * square.density(s2);
    }
  }

  /**
   * Logarithm of the least square: for few degrees it is so small that the library finds zero, and
   * there the distribution is that of a power.
   */
  private static double lowest(GammaDistribution square, double shape) {
    double found = square.inverseCumulativeProbability(REST);
    return found > 1e-4
        ? Math.log(found)
        : (Math.log(REST) + Gamma.logGamma(shape + 1)) / shape + Math.log(square.getScale());
  }

  /** Where the greatest of the means may lie. */
  private void layPlaces() {
    GaussIntegrator places = new GaussIntegratorFactory().legendre(POINTS, -FARTHEST, FARTHEST);
    for (int i = 0; i < POINTS; i++) {
      place[i] = places.getPoint(i);
      below[i] = NormalTable.below(place[i]);
      placeWeight[i] = places.getWeight(i) * means * NORMAL.density(place[i]);
    }
  }

  /** Probability of a range of at most {@code q}. */
  public double cumulativeProbability(double q) {
    if (q <= 0) {
      return 0;
    }
    double sum = 0;
    for (int i = 0; i < POINTS; i++) {
      sum += scaleWeight[i] * range(q * scale[i]);
    }
    return Math.min(1, sum);
  }

  /** Probability that the means lie within {@code w} true deviations. */
  private double range(double w) {
    double sum = 0;
    for (int i = 0; i < POINTS; i++) {
      double within = below[i] - NormalTable.below(place[i] - w);
      sum += placeWeight[i] * FastMath.pow(within, means - 1);
    }
    return sum;
  }

  /**
   * The range that is not passed with probability {@code p}.
   *
   * @param p from 0.001 to 0.99999
   * @throws IllegalArgumentException if p lies outside
   */
  public double inverseCumulativeProbability(double p) {
    if (!(p >= 0.001 && p <= 0.99999)) {
      throw new IllegalArgumentException("probability " + p + " is outside 0.001 to 0.99999");
    }
    double most = 4;
    while (cumulativeProbability(most) < p) {
      most *= 2;
    }
    return new BracketingNthOrderBrentSolver(1e-10, 1e-10, 1e-14, 5)
        .solve(200, q -> cumulativeProbability(q) - p, 0, most);
  }
}
