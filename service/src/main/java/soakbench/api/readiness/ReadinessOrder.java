package soakbench.api.readiness;

import java.util.List;
import java.util.Map;
import java.util.function.Supplier;
import soakbench.live.calibration.NewestCalibrations;
import soakbench.readiness.CalibrationOrder;
import soakbench.readiness.NextStep;
import soakbench.readiness.Readiness;

/** Who is taken next, as it was last worked out: asked of every verdict told. For any thread. */
public final class ReadinessOrder {
  private final Supplier<List<Readiness>> shown;
  private final NewestCalibrations marks;
  private volatile Map<String, Integer> order = Map.of();

  /**
   * @param shown the verdicts on all trackers now
   */
  public ReadinessOrder(Supplier<List<Readiness>> shown, NewestCalibrations marks) {
    this.shown = shown;
    this.marks = marks;
  }

  /** The place of a tracker, 1 for the next; null where it doesn't call for a hand. */
  Integer of(String tracker) {
    return order.get(tracker);
  }

  /** Works it out anew. */
  public Map<String, Integer> look() {
    return look(shown.get());
  }

  /** The same from verdicts on all trackers that were read already. */
  Map<String, Integer> look(List<Readiness> all) {
    order = CalibrationOrder.of(all, this::stepOf);
    return order;
  }

  private NextStep stepOf(Readiness verdict) {
    return NextStep.of(verdict, marks.of(verdict.tracker()).orElse(null), marks.isDone(verdict));
  }
}
