package soakbench.cli;

import soakbench.live.EventClock;

/**
 * The computer's time as it was at the start, carried on by its monotonic clock: setting the date
 * changes nothing.
 */
final class MonotonicClock implements EventClock {
  private final long startUs = System.currentTimeMillis() * 1000;
  private final long startNs = System.nanoTime();

  @Override
  public long nowUs() {
    return startUs + (System.nanoTime() - startNs) / 1000;
  }
}
