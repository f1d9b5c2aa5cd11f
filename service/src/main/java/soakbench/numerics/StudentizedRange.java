package soakbench.numerics;

import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import org.hipparchus.analysis.UnivariateFunction;
import org.hipparchus.analysis.integration.gauss.GaussIntegrator;
import org.hipparchus.analysis.integration.gauss.GaussIntegratorFactory;
import org.hipparchus.analysis.interpolation.SplineInterpolator;
import org.hipparchus.analysis.solvers.BracketingNthOrderBrentSolver;
import org.hipparchus.distribution.continuous.GammaDistribution;
import org.hipparchus.distribution.continuous.NormalDistribution;
import org.hipparchus.special.Gamma;
import org.hipparchus.util.FastMath;

/**
 * The range of some independent normal means in units of a standard deviation that is itself known
 * from so many degrees of freedom only: Tukey's q (H. L. Harter, 1960, "Tables of range and
 * studentized range", Ann. Math. Statist. 31, 1122 to 1147). A double integral by Gauss and
 * Legendre: the range given the deviation, then over the deviation. The range is tabled once for
 * each number of means, so that a probability costs some microseconds. Accurate to about 1e-9.
 */
public final class StudentizedRange {
  private static final NormalDistribution NORMAL = new NormalDistribution();
  private static final int POINTS = 128;

  /** Gauss's points between -1 and 1, which are costly to find. */
  private static final GaussIntegrator GAUSS = new GaussIntegratorFactory().legendre(POINTS);

  /** Beyond this a standard normal lies with a chance under 1e-15. */
  private static final double FARTHEST = 8.2;

  /** Chance left out at each end of the deviation. */
  private static final double REST = 1e-12;

  /** The table of ranges begins a little below zero, where a spline shall have no end. */
  private static final double LOWEST = -0.4;

  private static final double WIDEST = 16;
  private static final double STEP = 0.02;

  private static final Map<Integer, UnivariateFunction> RANGES = new ConcurrentHashMap<>();

  private final UnivariateFunction ranges;
  private final double[] scale = new double[POINTS];
  private final double[] scaleWeight = new double[POINTS];

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
    this.ranges = RANGES.computeIfAbsent(means, StudentizedRange::tabled);
    layScales(degreesOfFreedom);
  }

  /** Deviations by their logarithm, which keeps the few degrees of freedom smooth. */
  private void layScales(double df) {
    GammaDistribution square = new GammaDistribution(df / 2, 2 / df);
    double low = lowest(square, df / 2) / 2;
    double high = Math.log(square.inverseCumulativeProbability(1 - REST)) / 2;
    for (int i = 0; i < POINTS; i++) {
      scale[i] = Math.exp((low + high) / 2 + (high - low) / 2 * GAUSS.getPoint(i));
      double s2 = scale[i] * scale[i];
      scaleWeight[i] = (high - low) / 2 * GAUSS.getWeight(i) * 2 * s2 * square.density(s2);
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

  /** Probability that so many means lie within a range, by the range in true deviations. */
  private static UnivariateFunction tabled(int means) {
    int count = (int) Math.round((WIDEST - LOWEST) / STEP) + 1;
    double[] range = new double[count];
    double[] probability = new double[count];
    for (int i = 0; i < count; i++) {
      range[i] = LOWEST + i * STEP;
      probability[i] = within(range[i], means);
    }
    return new SplineInterpolator().interpolate(range, probability);
  }

  /** Over where the greatest of the means may lie; goes on smoothly below a range of 0. */
  private static double within(double range, int means) {
    double sum = 0;
    for (int i = 0; i < POINTS; i++) {
      double place = FARTHEST * GAUSS.getPoint(i);
      double others = NormalTable.below(place) - NormalTable.below(place - range);
      sum += GAUSS.getWeight(i) * NORMAL.density(place) * FastMath.pow(others, means - 1);
    }
    return FARTHEST * means * sum;
  }

  /** Probability of a range of at most {@code q}. */
  public double cumulativeProbability(double q) {
    if (q <= 0) {
      return 0;
    }
    double sum = 0;
    for (int i = 0; i < POINTS; i++) {
      double w = q * scale[i];
      sum += scaleWeight[i] * (w < WIDEST ? ranges.value(w) : 1);
    }
    return Math.min(1, sum);
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
