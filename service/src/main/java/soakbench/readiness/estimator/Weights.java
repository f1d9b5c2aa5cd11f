package soakbench.readiness.estimator;

import java.io.Serializable;
import java.util.Arrays;

/**
 * How much each filter of a bank is believed: by its prior and by how well it foretold each block
 * (multiple-model adaptive estimation; D. T. Magill, Optimal adaptive estimation of sampled
 * stochastic processes, IEEE Trans. Automatic Control 10, 1965). What is long ago counts a little
 * less, for no room keeps its habits, and nobody is ever out for good. Not thread-safe.
 */
final class Weights implements Serializable {
  private static final double MEMORY = 0.995;

  /** One block may speak no louder against a filter than this. */
  private static final double LOUDEST = 12;

  private static final double MOST_AGAINST = 25;

  /** How much evidence is trusted by who looks far ahead. */
  private static final double AHEAD_TRUST = 0.5;

  private final double[] prior;
  private final double[] priorAhead;
  private final double[] evidence;
  private final double[] share;
  private final double[] ahead;

  /**
   * @param prior how much each is believed beforehand
   * @param priorAhead the same for who looks far ahead
   */
  Weights(double[] prior, double[] priorAhead) {
    this.prior = logarithms(prior);
    this.priorAhead = logarithms(priorAhead);
    this.evidence = new double[prior.length];
    this.share = new double[prior.length];
    this.ahead = new double[prior.length];
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

  private static double[] logarithms(double[] prior) {
    return Arrays.stream(prior).map(Math::log).toArray();
  }

  /** Of the filters that count now: what others may add far ahead changes nothing for them. */
  private double greatest(double[] values) {
    double top = Double.NEGATIVE_INFINITY;
    for (int i = 0; i < values.length; i++) {
      top = prior[i] == Double.NEGATIVE_INFINITY ? top : Math.max(top, values[i]);
    }
    return top;
  }

  private void settle() {
    settle(share, prior, 1);
    settle(ahead, priorAhead, AHEAD_TRUST);
  }

  private void settle(double[] out, double[] prior, double trust) {
    double top = Double.NEGATIVE_INFINITY;
    for (int i = 0; i < out.length; i++) {
      out[i] = prior[i] + trust * evidence[i];
      top = Math.max(top, out[i]);
    }
    double sum = 0;
    for (int i = 0; i < out.length; i++) {
      out[i] = Math.exp(out[i] - top);
      sum += out[i];
    }
    for (int i = 0; i < out.length; i++) {
      out[i] /= sum;
    }
  }

  int size() {
    return share.length;
  }

  /** A filter's share; all sum to 1. */
  double of(int i) {
    return share[i];
  }

  /**
   * The same for who looks far ahead: no filter's model is exactly right, so what speaks against
   * the others counts half (a power posterior; P. Grunwald and T. van Ommen, Bayesian Analysis 12,
   * 2017).
   */
  double shareAheadOf(int i) {
    return ahead[i];
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
