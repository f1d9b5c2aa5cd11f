package soakbench.store;

import java.util.List;
import java.util.Map;
import soakbench.live.StoreException;
import soakbench.model.Soak;
import soakbench.store.connection.Pools;
import soakbench.store.rows.LeftOut;

/**
 * Soaks that people left out of the figures of their tracker, with the reason. Thread-safe; all
 * calls throw {@link StoreException} when the database does not answer.
 */
public final class LeftOutSoaks {
  private final Pools pools;
  private final SoakChanges changed;

  LeftOutSoaks(Pools pools, SoakChanges changed) {
    this.pools = pools;
    this.changed = changed;
  }

  /** The reasons of all that are left out, by soak. */
  public Map<String, String> reasons() {
    return pools.request("reading which soaks are left out", LeftOut::all);
  }

  /** Leaves a soak out, or gives another reason for it. */
  public void put(Soak soak, String reason) {
    change("leaving a soak out of the figures", soak, c -> LeftOut.put(c, soak, reason));
  }

  /** Takes a soak in again; harmless where it was not left out. */
  public void remove(Soak soak) {
    change("taking a soak into the figures again", soak, c -> LeftOut.remove(c, soak));
  }

  private void change(String doing, Soak soak, Pools.Work<Integer> work) {
    try {
      pools.change(doing, work);
    } finally {
      // Also when the answer got lost; the soak after it may be derived with this one.
      changed.trackers(List.of(soak.tracker()));
    }
  }
}
