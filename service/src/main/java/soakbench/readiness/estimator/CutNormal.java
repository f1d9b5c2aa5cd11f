package soakbench.readiness.estimator;

/**
 * A standard normal distribution of which only a stretch is left.
 *
 * @param logShare logarithm of the stretch's share of the whole
 * @param mean of what is left
 * @param variance of what is left
 */
record CutNormal(double logShare, double mean, double variance) {
  /** Beyond this many deviations the share is told by its leading term. */
  private static final double FAR = 6;

  static CutNormal between(double low, double high) {
    if (low > FAR) {
      return tail(low, 1);
    }
    if (high < -FAR) {
      return tail(-high, -1);
    }
    double share = Math.max(1e-12, Normal.below(high) - Normal.below(low));
    double atLow = Normal.density(low);
    double atHigh = Normal.density(high);
    double mean = (atLow - atHigh) / share;
    double variance = 1 + (part(low, atLow) - part(high, atHigh)) / share - mean * mean;
    return new CutNormal(Math.log(share), mean, Math.min(1, Math.max(1e-6, variance)));
  }

  private static double part(double x, double density) {
    return Double.isInfinite(x) ? 0 : x * density;
  }

  /** The first terms of the asymptotic series (M. Abramowitz and I. Stegun 1964, 26.2.12). */
  private static CutNormal tail(double from, int sign) {
    double logShare = -0.5 * from * from - Math.log(from * Math.sqrt(2 * Math.PI));
    double part = 1 / (from * from);
    double mean = from + (1 - 2 * part) / from;
    return new CutNormal(logShare, sign * mean, part * (1 - 6 * part));
  }
}
