package soakbench.live;

import soakbench.model.Tracker.Rates;

/** What the user says of each tracker's rates: what its firmware takes off them, or nothing. */
@FunctionalInterface
public interface RatesDeclared {
  /** Nobody said anything. */
  RatesDeclared NOTHING = tracker -> Rates.UNKNOWN;

  /** Asked once a second for each tracker; answers at once. */
  Rates of(String tracker);
}
