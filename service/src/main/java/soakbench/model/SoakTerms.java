package soakbench.model;

/**
 * What one soak is judged by, fixed when it begins, so that its timeline never mixes two sets of
 * limits: a restart, a late sample and a look years later all judge it by the same.
 *
 * @param limits what counts as ready
 * @param tauPrior what was known of its time constant beforehand; null where nothing was
 */
public record SoakTerms(Limits limits, TauPrior tauPrior) {

  /** These limits, with nothing known beforehand. */
  public static SoakTerms of(Limits limits) {
    return new SoakTerms(limits, null);
  }

  /** Other limits, with what was known beforehand. */
  public SoakTerms with(Limits others) {
    return new SoakTerms(others, tauPrior);
  }
}
