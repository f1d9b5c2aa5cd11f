package soakbench.demo;

/**
 * Keeps simulated time and the program that reads the ports together. Samples are on their way for
 * some tenths of a second, and in a tenth pass three simulated seconds: without this every tracker
 * would seem to fall silent between two batches, or whenever the computer is busy for a moment.
 */
final class DemoPace {
  private static final double UNDERWAY_S = 0.4;

  /** Where really nobody reads, time goes on after all. */
  private static final long LONGEST_REST_NS = 3_000_000_000L;

  private final long patienceUs;
  private volatile long heardUs;
  private long heardBeforeUs;
  private boolean resting;
  private long restingSinceNs;

  /**
   * @param startUs simulated time at the start, microseconds since 1970
   * @param speed simulated seconds a second
   */
  DemoPace(long startUs, double speed) {
    this.patienceUs = Math.round(speed * UNDERWAY_S * 1e6);
    this.heardUs = startUs;
    this.heardBeforeUs = startUs;
  }

  /** The reading program has this sample; called from one thread. */
  void heard(long timeUs) {
    heardUs = Math.max(heardUs, timeUs);
  }

  /** What time the reading program has to think it is, when all was printed up to a time. */
  long known(long printedUs) {
    return Math.max(heardUs, printedUs - patienceUs);
  }

  /**
   * Whether simulated time has to rest, because the reading program fell behind; called from one
   * thread.
   *
   * @param simulatedUs simulated time, microseconds since 1970
   * @param nowNs by a monotonic clock
   */
  boolean rests(long simulatedUs, long nowNs) {
    long newestUs = heardUs;
    if (newestUs != heardBeforeUs) {
      heardBeforeUs = newestUs;
      resting = false;
    }
    if (simulatedUs - newestUs < patienceUs) {
      return false;
    }
    if (!resting) {
      resting = true;
      restingSinceNs = nowNs;
    }
    return nowNs - restingSinceNs < LONGEST_REST_NS;
  }
}
