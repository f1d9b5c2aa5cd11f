package soakbench.model;

/**
 * What earlier soaks on the same rack tell of the time constant of the next: a log-normal belief.
 *
 * @param medianS its median, s, above 0
 * @param factor one standard deviation up multiplies by this, one down divides by it; above 1
 * @param soaks how many soaks it was learnt from
 */
public record TauPrior(double medianS, double factor, int soaks) {

  /**
   * @throws IllegalArgumentException if it is no belief: a median or factor out of range, or a
   *     number of soaks below 1
   */
  public TauPrior {
    boolean belief = medianS > 0 && Double.isFinite(medianS) && factor > 1 && soaks >= 1;
    if (!belief || !Double.isFinite(factor)) {
      throw new IllegalArgumentException(
          "median "
              + medianS
              + " s must be above 0, factor "
              + factor
              + " above 1, soaks "
              + soaks
              + " at least 1");
    }
  }
}
