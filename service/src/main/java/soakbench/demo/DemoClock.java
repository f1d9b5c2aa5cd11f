package soakbench.demo;

import soakbench.live.EventClock;

/**
 * Simulated time. It runs at the demo's speed while it lies in the past and no faster than real
 * time from then on, so that a demo left open shows today's clock and never tomorrow's. It runs on
 * a monotonic clock. When the computer slept, simulated time slept too, and then hurries after.
 */
final class DemoClock implements EventClock {
  private static final long LONGEST_STEP_NS = 100_000_000L;

  private final double speed;
  private final long realStartUs;
  private long elapsedNs;
  private double simulatedUs;
  private volatile long publishedUs;

  /**
   * @param startUs simulated time at the start, microseconds since 1970
   * @param realStartUs real time at the start, microseconds since 1970
   */
  DemoClock(long startUs, long realStartUs, double speed) {
    this.speed = speed;
    this.realStartUs = realStartUs;
    this.simulatedUs = startUs;
    this.publishedUs = startUs;
  }

  /**
   * Goes on.
   *
   * @param nowElapsedNs since the start, by a monotonic clock
   * @return simulated time by now, not yet published, microseconds since 1970
   */
  long advance(long nowElapsedNs) {
    double stepUs = Math.min(nowElapsedNs - elapsedNs, LONGEST_STEP_NS) / 1000.0;
    elapsedNs = nowElapsedNs;
    double realUs = realStartUs + nowElapsedNs / 1000.0;
    double atRealPaceUs = simulatedUs + stepUs;
    simulatedUs = Math.min(simulatedUs + speed * stepUs, Math.max(realUs, atRealPaceUs));
    return (long) simulatedUs;
  }

  /** Lets real time pass while simulated time stands. */
  void hold(long nowElapsedNs) {
    elapsedNs = nowElapsedNs;
  }

  /** All lines up to this time have been written. */
  void publish(long timeUs) {
    publishedUs = timeUs;
  }

  @Override
  public long nowUs() {
    return publishedUs;
  }
}
