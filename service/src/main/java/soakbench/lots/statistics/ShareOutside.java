package soakbench.lots.statistics;

import org.hipparchus.distribution.continuous.BetaDistribution;
import soakbench.model.Estimate;

/** What share of all units to come lies outside of a limit, of which so many of those seen do. */
public final class ShareOutside {
  private ShareOutside() {}

  /**
   * The share with exact 95 % limits (C. J. Clopper and E. S. Pearson, 1934, Biometrika 26, 404 to
   * 413).
   *
   * @param count outside, 0 or more
   * @param of so many, at least 1 and at least count
   */
  public static Estimate of(int count, int of) {
    if (count < 0 || of < 1 || count > of) {
      throw new IllegalArgumentException(count + " of " + of + " is no share");
    }
    double low =
        count == 0
            ? 0
            : new BetaDistribution(count, of - count + 1.0).inverseCumulativeProbability(0.025);
    double high =
        count == of
            ? 1
            : new BetaDistribution(count + 1.0, of - count).inverseCumulativeProbability(0.975);
    return new Estimate((double) count / of, null, low, high, null);
  }
}
