package soakbench.live;

import soakbench.model.Tracker.Rates;

/** What the roster declares that each tracker's firmware takes off its rates. */
@FunctionalInterface
public interface RosterRates {
  /** Nothing is declared. */
  RosterRates NOTHING = tracker -> Rates.UNKNOWN;

  /** Called once a second for each tracker; must return at once. */
  Rates of(String tracker);
}
