package soakbench.model;

import java.io.Serializable;

/**
 * A log-normal belief about a time constant before it is measured: what earlier soaks on the same
 * rack tell of the next, or what is known of such bodies in general.
 *
 * @param medianS its median, s, above 0
 * @param factor one standard deviation up multiplies by this, one down divides by it; above 1
 * @param soaks how many soaks it was learnt from; 0 where it is a general belief
 */
public record TauPrior(double medianS, double factor, int soaks) implements Serializable {

  /**
   * @throws IllegalArgumentException if it is no belief: a median or factor out of range, or a
   *     number of soaks below 0
   */
  public TauPrior {
    boolean belief = medianS > 0 && Double.isFinite(medianS) && factor > 1 && soaks >= 0;
    if (!belief || !Double.isFinite(factor)) {
      throw new IllegalArgumentException(
          "median "
              + medianS
              + " s must be above 0, factor "
              + factor
              + " above 1, soaks "
              + soaks
              + " at least 0");
    }
  }

  /**
   * A belief that no soak was needed for.
   *
   * @param logSd standard deviation of the time constant's natural logarithm
   */
  public static TauPrior general(double medianS, double logSd) {
    return new TauPrior(medianS, Math.exp(logSd), 0);
  }

  /** Standard deviation of the time constant's natural logarithm. */
  public double logSd() {
    return Math.log(factor);
  }
}
