package soakbench.ingest;

import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.host.FaultLog;
import soakbench.live.arrival.Arrivals;

/** Isolates the reading thread from faults of the listener. Thread-safe. */
final class SafeArrivals implements Arrivals {
  private static final Logger LOG = LoggerFactory.getLogger(SafeArrivals.class);

  private final Arrivals to;
  private final FaultLog faults = new FaultLog(LOG, "telling what arrives");

  SafeArrivals(Arrivals to) {
    this.to = to;
  }

  @Override
  public void heard(Arrival arrival) {
    try {
      to.heard(arrival);
    } catch (RuntimeException e) {
      faults.add(e);
    }
  }
}
