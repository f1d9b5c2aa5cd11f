package soakbench.lots.statistics;

import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import org.hipparchus.analysis.integration.gauss.GaussIntegrator;
import org.hipparchus.analysis.integration.gauss.GaussIntegratorFactory;
import org.hipparchus.analysis.solvers.BrentSolver;
import org.hipparchus.distribution.continuous.GammaDistribution;
import org.hipparchus.distribution.continuous.NormalDistribution;
import org.hipparchus.stat.StatUtils;

/**
 * Two limits that hold a wanted share of all units to come, not only of those measured; for figures
 * that follow the normal distribution (A. Wald and J. Wolfowitz, 1946, Ann. Math. Statist. 17, 208
 * to 215; ISO 16269-6).
 *
 * @param low lower limit
 * @param high upper limit
 */
public record ToleranceInterval(double low, double high) {
  private static final NormalDistribution NORMAL = new NormalDistribution();
  private static final int POINTS = 64;

  /** Factors that were worked out, which takes a millisecond each. */
  private static final Map<List<Double>, Double> FACTORS = new ConcurrentHashMap<>();

  /** Beyond this many standard errors a mean lies with a chance under 1e-15. */
  private static final double FARTHEST = 8.2;

  /**
   * The interval about the mean of some units' figures.
   *
   * @param figures one for each unit, at least 2, no NaN
   * @param coverage share of all units that it shall hold, between 0 and 1
   * @param confidence how often such an interval does, between 0 and 1
   * @throws IllegalArgumentException if one of these lies outside
   */
  public static ToleranceInterval of(double[] figures, double coverage, double confidence) {
    double factor = factor(figures.length, coverage, confidence);
    double mean = StatUtils.mean(figures);
    double half = factor * Math.sqrt(StatUtils.variance(figures, mean));
    return new ToleranceInterval(mean - half, mean + half);
  }

  /**
   * How many standard deviations of {@code count} figures the limits lie from their mean: exact, by
   * integration over where the mean may lie, to about 10 digits.
   */
  public static double factor(int count, double coverage, double confidence) {
    check(count, coverage, confidence);
    return FACTORS.computeIfAbsent(
        List.of((double) count, coverage, confidence),
        k -> exactFactor(count, coverage, confidence));
  }

  private static double exactFactor(int count, double coverage, double confidence) {
    GaussIntegrator means = new GaussIntegratorFactory().legendre(POINTS, 0, FARTHEST);
    double[] reach = new double[POINTS];
    for (int i = 0; i < POINTS; i++) {
      reach[i] = reach(means.getPoint(i) / Math.sqrt(count), coverage);
    }
    double start = howe(count, coverage, confidence);
    return new BrentSolver(1e-12, 1e-12, 1e-15)
        .solve(
            200, k -> held(means, reach, count - 1, k) - confidence, start / 4, start * 4, start);
  }

  /**
   * The same in closed form, too small by 1 % or less in most uses (W. G. Howe, 1969, "Two-sided
   * tolerance limits for normal populations, some improvements", J. Amer. Statist. Assoc. 64, 610
   * to 620; NIST/SEMATECH e-Handbook 7.2.6.3).
   */
  public static double howe(int count, double coverage, double confidence) {
    check(count, coverage, confidence);
    double z = NORMAL.inverseCumulativeProbability((1 + coverage) / 2);
    double df = count - 1.0;
    double least = new GammaDistribution(df / 2, 2).inverseCumulativeProbability(1 - confidence);
    return z * Math.sqrt(df * (1 + 1.0 / count) / least);
  }

  private static void check(int count, double coverage, double confidence) {
    if (count < 2) {
      throw new IllegalArgumentException(count + " units; a tolerance interval takes 2 or more");
    }
    if (!(coverage > 0 && coverage < 1 && confidence > 0 && confidence < 1)) {
      throw new IllegalArgumentException(
          "coverage %s and confidence %s must lie between 0 and 1".formatted(coverage, confidence));
    }
  }

  /** How often limits at k deviations hold enough: mean and deviation are independent. */
  private static double held(GaussIntegrator means, double[] reach, double df, double k) {
    GammaDistribution chiSquare = new GammaDistribution(df / 2, 2);
    double held = 0;
    for (int i = 0; i < POINTS; i++) {
      double least = df * reach[i] * reach[i] / (k * k);
      double enough = 1 - chiSquare.cumulativeProbability(least);
      held += means.getWeight(i) * 2 * NORMAL.density(means.getPoint(i)) * enough;
    }
    return held;
  }

  /** Half width that holds {@code coverage} where the mean is off by so many true deviations. */
  private static double reach(double off, double coverage) {
    double most = off + NORMAL.inverseCumulativeProbability((1 + coverage) / 2) + 1;
    return new BrentSolver(1e-14, 1e-14, 1e-16)
        .solve(200, r -> NORMAL.probability(off - r, off + r) - coverage, 0, most);
  }
}
