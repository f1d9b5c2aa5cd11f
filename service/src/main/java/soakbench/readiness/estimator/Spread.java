package soakbench.readiness.estimator;

import soakbench.model.Estimate;

/** What is known of one figure: a mixture of normal distributions. */
final class Spread {
  /** No mixture has a twentieth beyond so many of its deviations (Chebyshev, one-sided). */
  private static final double FARTHEST = 20;

  private static final double FIRST = 1.645;
  private static final int MOST_STEPS = 30;
  private static final double CLOSE = 1e-4;

  private final double[] share;
  private final double[] mean;
  private final double[] sd;
  private final double value;
  private final double variance;

  /**
   * @param share of each; they sum to 1
   * @param mean of each
   * @param sd of each
   */
  Spread(double[] share, double[] mean, double[] sd) {
    this.share = share;
    this.mean = mean;
    this.sd = sd;
    double middle = 0;
    for (int i = 0; i < share.length; i++) {
      middle += share[i] * mean[i];
    }
    double sum = 0;
    for (int i = 0; i < share.length; i++) {
      sum += share[i] * (sd[i] * sd[i] + (mean[i] - middle) * (mean[i] - middle));
    }
    this.value = middle;
    this.variance = sum;
  }

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
    return value;
  }

  /** Variance about {@link #value}. */
  double variance() {
    return variance;
  }

  /** As it goes out to people, with 95 % limits. */
  Estimate estimate() {
    return Estimate.of(value, Math.sqrt(variance), quantile(0.025), quantile(0.975));
  }

  /**
   * The value that it lies below with a given probability: Newton's steps from where one normal
   * distribution would have it, by halves where they leave what is left.
   */
  double quantile(double p) {
    double whole = Math.sqrt(variance);
    double low = value - FARTHEST * whole;
    double high = value + FARTHEST * whole;
    double at = value + (p < 0.5 ? -1 : 1) * FIRST * whole;
    for (int i = 0; i < MOST_STEPS; i++) {
      double off = below(at) - p;
      if (Math.abs(off) < CLOSE) {
        return at;
      }
      low = off < 0 ? at : low;
      high = off < 0 ? high : at;
      double next = at - off / density(at);
      at = next > low && next < high ? next : (low + high) / 2;
    }
    return at;
  }

  private double density(double value) {
    double sum = 1e-300;
    for (int i = 0; i < share.length; i++) {
      sum += share[i] * Normal.density((value - mean[i]) / sd[i]) / sd[i];
    }
    return sum;
  }
}
