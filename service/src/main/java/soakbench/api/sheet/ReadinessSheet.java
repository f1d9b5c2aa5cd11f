package soakbench.api.sheet;

import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;
import soakbench.api.http.TrackerFilter;
import soakbench.api.http.TrackerNames;
import soakbench.api.readiness.ReadinessOrder;
import soakbench.api.readiness.ReadinessTable;
import soakbench.live.arrival.LiveVerdicts;
import soakbench.live.calibration.NewestCalibrations;
import soakbench.readiness.Readiness;

/** The verdicts now, for spreadsheets. */
public final class ReadinessSheet {
  /** The order is worked out from all verdicts, which is too much for each cell. */
  private static final long ORDER_EVERY_NS = TimeUnit.SECONDS.toNanos(1);

  private final LiveVerdicts live;
  private final TrackerNames names;
  private final ReadinessOrder order;
  private final SheetTable<Readiness> table;
  private final AtomicLong lookNs = new AtomicLong(System.nanoTime());

  public ReadinessSheet(
      LiveVerdicts live, TrackerNames names, NewestCalibrations marks, ReadinessOrder order) {
    this.live = live;
    this.names = names;
    this.order = order;
    this.table =
        new SheetTable<>(
            "readiness",
            "/api/readiness.csv",
            "a tracker that is heard",
            ReadinessTable.of(names::of, marks, order),
            this::rows);
  }

  SheetTable<Readiness> table() {
    return table;
  }

  Optional<Readiness> of(String tracker) {
    lookAtOrder();
    return live.readiness(tracker);
  }

  private List<Readiness> rows(TrackerFilter which) {
    order.look();
    return live.readiness().stream()
        .filter(v -> which.hasTracker(v.tracker(), names) && which.hasTime(v.asOfUs()))
        .toList();
  }

  private void lookAtOrder() {
    long nowNs = System.nanoTime();
    long due = lookNs.get();
    if (nowNs - due >= 0 && lookNs.compareAndSet(due, nowNs + ORDER_EVERY_NS)) {
      order.look();
    }
  }
}
