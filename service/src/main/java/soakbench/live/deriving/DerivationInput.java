package soakbench.live.deriving;

import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.model.Tracker.Rates;

/**
 * What a soak's figures are derived from, beside its bins.
 *
 * @param before the tracker's soak before it; null where there is none
 * @param terms what it is judged by
 * @param rates what the roster declares of its rates
 * @param basis the state of all of it, to detect that it changed
 */
public record DerivationInput(Soak soak, Soak before, SoakTerms terms, Rates rates, Basis basis) {

  /**
   * The state that something was derived from, in the store's own form: it is compared with the
   * present state.
   *
   * @param state out of date as soon as this differs
   * @param heard what had been heard; more of it may change what waits for more samples
   */
  public record Basis(String state, String heard) {}

  /** The temperature it is calibrated for, degC. */
  public double useC() {
    return terms.limits().useTemperatureC();
  }
}
