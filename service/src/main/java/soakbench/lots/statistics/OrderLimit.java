package soakbench.lots.statistics;

import org.hipparchus.distribution.discrete.BinomialDistribution;

/**
 * The upper limit that holds a wanted share of all units, whatever their distribution: one of the
 * greatest figures measured (S. S. Wilks, 1941, "Determination of sample sizes for setting
 * tolerance limits", Ann. Math. Statist. 12, 91 to 96; NIST/SEMATECH e-Handbook 7.2.6.4).
 */
public final class OrderLimit {
  private OrderLimit() {}

  /**
   * Which figure is the limit: 1 is the greatest, 2 the one below it; 0 where there are too few.
   *
   * @param count of figures, at least 0
   * @param coverage share of all units that it shall hold, between 0 and 1
   * @param confidence how often it does, between 0 and 1
   */
  public static int rank(int count, double coverage, double confidence) {
    // The figure of rank r lies above the share's quantile where r or more of the units do.
    BinomialDistribution above = new BinomialDistribution(count, 1 - coverage);
    int rank = 0;
    while (rank < count && above.cumulativeProbability(rank) <= 1 - confidence) {
      rank++;
    }
    return rank;
  }

  /** Least number of figures of which the greatest is such a limit: 59 for 95 % and 95 %. */
  public static int leastCount(double coverage, double confidence) {
    return (int) Math.ceil(Math.log(1 - confidence) / Math.log(coverage));
  }
}
