package soakbench.demo;

import java.util.function.LongSupplier;

/**
 * Lets simulated time rest while the program that reads the ports does not keep up. Ten simulated
 * seconds pass in a third of a second, so a computer that is busy for a moment would otherwise make
 * a rack of talking trackers look silent. Not thread-safe.
 */
final class DemoPace {
  /** Below the ten seconds after which a tracker counts as silent. */
  private static final long PATIENCE_US = 8_000_000L;

  /** Where really nobody reads, time goes on after all. */
  private static final long LONGEST_REST_NS = 3_000_000_000L;

  private final LongSupplier taken;
  private long takenBefore = -1;
  private long takenAtUs;
  private boolean resting;
  private long restingSinceNs;

  /**
   * @param taken how many samples the reading program has taken in so far
   */
  DemoPace(LongSupplier taken) {
    this.taken = taken;
  }

  /**
   * Whether simulated time has to rest.
   *
   * @param simulatedUs simulated time, microseconds since 1970
   * @param nowNs by a monotonic clock
   */
  boolean rests(long simulatedUs, long nowNs) {
    long takenNow = taken.getAsLong();
    if (takenNow != takenBefore) {
      takenBefore = takenNow;
      takenAtUs = simulatedUs;
      resting = false;
    }
    if (simulatedUs - takenAtUs < PATIENCE_US) {
      return false;
    }
    if (!resting) {
      resting = true;
      restingSinceNs = nowNs;
    }
    return nowNs - restingSinceNs < LONGEST_REST_NS;
  }
}
