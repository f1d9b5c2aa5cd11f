package soakbench.lots.statistics;

import org.hipparchus.distribution.continuous.TDistribution;
import soakbench.model.Estimate;
import soakbench.numerics.StudentizedRange;

/**
 * Two of several groups, whose spreads may differ, with limits and a probability that hold for all
 * pairs of the groups at once (P. A. Games and J. F. Howell, 1976, "Pairwise multiple comparison
 * procedures with unequal n's and/or variances", J. Educ. Statist. 1, 113 to 125). Of two groups it
 * is Welch's t test.
 *
 * @param difference mean of the second less mean of the first, with its simultaneous 95 % limits
 * @param df degrees of freedom of its error (Welch and Satterthwaite)
 * @param p how often chance alone makes any pair of equal groups differ as much
 * @param alone the same of this pair alone (Welch's t test)
 */
public record PairTest(Estimate difference, double df, double p, double alone) {
  private static final double CONFIDENCE = 0.95;

  /**
   * Tests two groups.
   *
   * @param a two or more figures, no NaN
   * @param b likewise; not all figures of both alike
   * @param groups how many there are, of which these are two
   * @throws IllegalArgumentException if one has a single figure, or neither any spread
   */
  public static PairTest of(double[] a, double[] b, int groups) {
    Moments first = Moments.of(a);
    Moments second = Moments.of(b);
    double variance = first.meanVariance() + second.meanVariance();
    if (first.count() < 2 || second.count() < 2 || !(variance > 0)) {
      throw new IllegalArgumentException(
          "groups of %d and %d figures without spread can't be told apart"
              .formatted(first.count(), second.count()));
    }
    double df = variance * variance / (part(first) + part(second));
    double difference = second.mean() - first.mean();
    double se = Math.sqrt(variance);
    double alone = 2 * new TDistribution(df).cumulativeProbability(-Math.abs(difference) / se);
    if (groups == 2) {
      double t = new TDistribution(df).inverseCumulativeProbability((1 + CONFIDENCE) / 2);
      return new PairTest(Estimate.of(difference, se, t), df, alone, alone);
    }
    StudentizedRange range = new StudentizedRange(groups, df);
    double root = Math.sqrt(2);
    double p = 1 - range.cumulativeProbability(Math.abs(difference) / se * root);
    double quantile = range.inverseCumulativeProbability(CONFIDENCE) / root;
    return new PairTest(Estimate.of(difference, se, quantile), df, Math.max(0, p), alone);
  }

  private static double part(Moments m) {
    return m.meanVariance() * m.meanVariance() / (m.count() - 1);
  }
}
