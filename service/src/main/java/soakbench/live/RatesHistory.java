package soakbench.live;

import soakbench.model.Tracker.Rates;

/** What was declared of a tracker's rates, by second of its own time. */
@FunctionalInterface
public interface RatesHistory {

  /**
   * What held at this second; for a second that was never closed before, what is declared now.
   *
   * @param second since 1970
   */
  Rates of(String tracker, long second);
}
