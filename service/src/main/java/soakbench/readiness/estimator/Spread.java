package soakbench.readiness.estimator;

/**
 * What is known of one figure: a mixture of normal laws.
 *
 * @param share of each; they sum to 1
 * @param mean of each
 * @param sd of each
 */
record Spread(double[] share, double[] mean, double[] sd) {
  private static final int HALVINGS = 30;

  /** Probability of more than a value. */
  double above(double value) {
    double sum = 0;
    for (int i = 0; i < share.length; i++) {
      sum += share[i] * Normal.below((mean[i] - value) / sd[i]);
    }
    return sum;
  }

  /** Probability of less than a value. */
  double below(double value) {
    double sum = 0;
    for (int i = 0; i < share.length; i++) {
      sum += share[i] * Normal.below((value - mean[i]) / sd[i]);
    }
    return sum;
  }

  /** Probability of being farther from zero than a limit. */
  double outside(double limit) {
    return above(limit) + below(-limit);
  }

  double value() {
    double sum = 0;
    for (int i = 0; i < share.length; i++) {
      sum += share[i] * mean[i];
    }
    return sum;
  }

  /** The value that it lies below with a given probability, by halving. */
  double quantile(double p) {
    double low = Double.POSITIVE_INFINITY;
    double high = Double.NEGATIVE_INFINITY;
    for (int i = 0; i < share.length; i++) {
      low = Math.min(low, mean[i] - 8 * sd[i]);
      high = Math.max(high, mean[i] + 8 * sd[i]);
    }
    for (int i = 0; i < HALVINGS && high - low > 1e-6; i++) {
      double mid = (low + high) / 2;
      if (below(mid) < p) {
        low = mid;
      } else {
        high = mid;
      }
    }
    return (low + high) / 2;
  }
}
