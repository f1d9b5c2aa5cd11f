package soakbench.ingest;

import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.host.FaultLog;
import soakbench.live.arrival.Arrival;
import soakbench.live.arrival.ArrivalListener;

/** Isolates the reading thread from faults of the listener. Thread-safe. */
final class SafeArrivalListener implements ArrivalListener {
  private static final Logger LOG = LoggerFactory.getLogger(SafeArrivalListener.class);

  private final ArrivalListener to;
  private final FaultLog faults = new FaultLog(LOG, "telling what arrives");

  SafeArrivalListener(ArrivalListener to) {
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
