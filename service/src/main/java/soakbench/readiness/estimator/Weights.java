package soakbench.readiness.estimator;

/**
 * How much each filter of a bank is believed: by its prior and by how well it foretold each block
 * (multiple-model adaptive estimation; D. T. Magill, Optimal adaptive estimation of sampled
 * stochastic processes, IEEE Trans. Automatic Control 10, 1965). What is long ago counts a little
 * less, for no room keeps its habits, and nobody is ever out for good. Not thread-safe.
 */
final class Weights {
  private static final double MEMORY = 0.995;

  /** One block may speak no louder against a filter than this. */
  private static final double LOUDEST = 12;

  private static final double MOST_AGAINST = 25;

  private final double[] prior;
  private final double[] evidence;
  private final double[] share;

  /**
   * @param prior how much each is believed beforehand
   */
  Weights(double[] prior) {
    this.prior = new double[prior.length];
    this.evidence = new double[prior.length];
    this.share = new double[prior.length];
    for (int i = 0; i < prior.length; i++) {
      this.prior[i] = Math.log(prior[i]);
    }
    settle();
  }

  /** Takes the logarithms of how likely each filter held what was read. */
  void take(double[] likely) {
    double best = greatest(likely);
    for (int i = 0; i < evidence.length; i++) {
      evidence[i] = MEMORY * evidence[i] + Math.max(likely[i] - best, -LOUDEST);
    }
    double top = greatest(evidence);
    for (int i = 0; i < evidence.length; i++) {
      evidence[i] = Math.max(evidence[i] - top, -MOST_AGAINST);
    }
    settle();
  }

  private static double greatest(double[] values) {
    double top = Double.NEGATIVE_INFINITY;
    for (double v : values) {
      top = Math.max(top, v);
    }
    return top;
  }

  private void settle() {
    double top = Double.NEGATIVE_INFINITY;
    for (int i = 0; i < share.length; i++) {
      share[i] = prior[i] + evidence[i];
      top = Math.max(top, share[i]);
    }
    double sum = 0;
    for (int i = 0; i < share.length; i++) {
      share[i] = Math.exp(share[i] - top);
      sum += share[i];
    }
    for (int i = 0; i < share.length; i++) {
      share[i] /= sum;
    }
  }

  int size() {
    return share.length;
  }

  /** A filter's share; all sum to 1. */
  double of(int i) {
    return share[i];
  }

  /** Which filter is believed most. */
  int likeliest() {
    int best = 0;
    for (int i = 1; i < share.length; i++) {
      best = share[i] > share[best] ? i : best;
    }
    return best;
  }
}
