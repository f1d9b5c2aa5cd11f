package soakbench.live;

import soakbench.model.Tracker.Rates;

/** What was told of a tracker's rates at each second of its own time. */
@FunctionalInterface
public interface RatesAt {

  /**
   * What held at this second; for a second that was never closed before, what is told now.
   *
   * @param second since 1970
   */
  Rates of(String tracker, long second);
}
