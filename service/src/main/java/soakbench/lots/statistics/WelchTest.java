package soakbench.lots.statistics;

import java.util.Arrays;
import org.hipparchus.distribution.continuous.FDistribution;

/**
 * Whether groups have the same mean though they may spread differently (B. L. Welch, 1951, "On the
 * comparison of several mean values: an alternative approach", Biometrika 38, 330 to 336). Of two
 * groups it is Welch's t test (1947, Biometrika 34, 28 to 35), whose t squared is {@code f}.
 *
 * @param f the statistic
 * @param betweenDf groups less one
 * @param withinDf degrees of freedom of the spread, seldom whole
 * @param p how often chance alone makes groups of one mean differ as much or more
 */
public record WelchTest(double f, double betweenDf, double withinDf, double p) {

  /**
   * Tests the figures of groups.
   *
   * @param groups each with two or more figures that are not all alike, no NaN
   * @throws IllegalArgumentException if there are fewer than two groups, or one has no spread
   */
  public static WelchTest of(double[][] groups) {
    if (groups.length < 2) {
      throw new IllegalArgumentException(groups.length + " groups; a comparison takes 2 or more");
    }
    Moments[] moments = Arrays.stream(groups).map(Moments::of).toArray(Moments[]::new);
    double weights = 0;
    double weighted = 0;
    for (Moments m : moments) {
      if (!(m.variance() > 0)) {
        throw new IllegalArgumentException(
            "a group of %d figures has no spread, so its mean has no error".formatted(m.count()));
      }
      weights += 1 / m.meanVariance();
      weighted += m.mean() / m.meanVariance();
    }
    return of(moments, weights, weighted / weights);
  }

  private static WelchTest of(Moments[] moments, double weights, double grand) {
    int k = moments.length;
    double between = 0;
    double lambda = 0;
    for (Moments m : moments) {
      double weight = 1 / m.meanVariance();
      between += weight * (m.mean() - grand) * (m.mean() - grand);
      lambda += (1 - weight / weights) * (1 - weight / weights) / (m.count() - 1);
    }
    double f = between / (k - 1) / (1 + 2 * (k - 2) * lambda / (k * k - 1.0));
    double withinDf = (k * k - 1.0) / (3 * lambda);
    // The reciprocal's lower tail, since 1 less a probability near 1 loses the digits of a small p.
    double p = f > 0 ? new FDistribution(withinDf, k - 1.0).cumulativeProbability(1 / f) : 1;
    return new WelchTest(f, k - 1.0, withinDf, p);
  }
}
