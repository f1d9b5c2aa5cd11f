package soakbench.live.deriving;

import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.model.Tracker.Rates;

/**
 * A soak of which something is to be derived, with what that takes beside its bins.
 *
 * @param before the tracker's soak before it; null where there is none
 * @param terms what it is judged by
 * @param rates what the user says of its rates
 * @param basis in which state all of it was
 */
public record DueSoak(Soak soak, Soak before, SoakTerms terms, Rates rates, Basis basis) {

  /**
   * In which state something was derived, in words of the store's own: it compares them with how
   * things stand.
   *
   * @param told what makes it out of date as soon as it is another
   * @param heard what had been heard; more of it may change what waits for more
   */
  public record Basis(String told, String heard) {}

  /** The temperature it is calibrated for, degC. */
  public double useC() {
    return terms.limits().useTemperatureC();
  }
}
