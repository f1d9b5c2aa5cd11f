package soakbench.cli.running;

import soakbench.ingest.identity.ArrivalClock;
import soakbench.live.EventClock;

/** The service's clock: the same that dates what arrives at its inputs. */
public final class MonotonicClock implements EventClock {
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
