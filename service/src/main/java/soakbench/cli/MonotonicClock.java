package soakbench.cli;

import soakbench.ingest.ArrivalClock;
import soakbench.live.EventClock;

/** The service's clock: the same that dates what arrives at its doors. */
final class MonotonicClock implements EventClock {
  private final ArrivalClock clock = new ArrivalClock();

  @Override
  public long nowUs() {
    return clock.nowUs();
  }

  @Override
  public long runningUs() {
    return clock.runningUs();
  }
}
