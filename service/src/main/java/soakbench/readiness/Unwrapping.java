package soakbench.readiness;

import java.io.Serializable;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import soakbench.drift.still.BiasModel;
import soakbench.drift.still.Stillness;
import soakbench.model.Bin;
import soakbench.model.Limits;
import soakbench.thermal.cooling.CoolingFinding;
import soakbench.thermal.cooling.CoolingSecond;
import soakbench.thermal.cooling.UncoveringDetector;

/**
 * Watches one soak for coolings, and answers how long the tracker may lie uncovered: from its own
 * newest cooling, in this soak or an earlier one, else from a mate's. Not thread-safe.
 */
final class Unwrapping implements Serializable {
  /** It changes slowly and costs more than a second's verdict. */
  private static final double EVERY_S = 60;

  private final Limits limits;
  private final UncoveringDetector watch = new UncoveringDetector();
  private final List<RecordedCooling> recorded = new ArrayList<>();
  private Covered covered;
  private String failure;
  private long answeredMinute = -1;
  private RecordedCooling answeredFrom;
  private Unwrapped answered;

  Unwrapping(Limits limits) {
    this.limits = limits;
  }

  /**
   * Takes one second that has a temperature.
   *
   * @param stepC the thermometer's step where its noise does not carry it over, else 0, degC
   * @param models the axes' bias curves; null while unknown
   */
  void accept(Bin bin, double tS, Stillness.Answer answer, double stepC, BiasModel[] models) {
    boolean moved = answer == Stillness.Answer.MOVED || answer == Stillness.Answer.NEW_LEVEL;
    double[] bias = bin.rateCount() == 0 ? null : bin.biasDps();
    CoolingSecond second = new CoolingSecond(tS, bin.temperatureC().mean(), bias, moved);
    if (covered != null && !covered.accept(second)) {
      takeCovered(models);
    }
    watch.accept(second, stepC).ifPresent(f -> found(f, models));
  }

  /** The newest cooling read again with what was heard after it. */
  private void takeCovered(BiasModel[] models) {
    if (models != null) {
      recorded.set(
          recorded.size() - 1, RecordedCooling.of(covered.finding(), covered.seconds(), models));
    }
    covered = null;
  }

  private void found(CoolingFinding finding, BiasModel[] models) {
    failure = finding.reason();
    if (finding.cooling() != null) {
      recorded.add(RecordedCooling.of(finding, models));
      covered = new Covered(finding);
    }
  }

  /** Coolings of this soak, by time. */
  List<RecordedCooling> recorded() {
    return List.copyOf(recorded);
  }

  private Optional<RecordedCooling> own() {
    return recorded.isEmpty() ? Optional.empty() : Optional.of(recorded.get(recorded.size() - 1));
  }

  /** The answer now. */
  Unwrapped answer(String tracker, Evidence e, CoolingSource elsewhere) {
    Optional<RecordedCooling> mine = own().or(() -> elsewhere.ofTracker(tracker));
    Optional<RecordedCooling> any = mine.or(() -> elsewhere.ofMates(tracker));
    if (any.isEmpty()) {
      return Unwrapped.unknown(
          failure == null ? Unwrapped.UNCOVER_ONE : Unwrapped.UNCOVER_ONE + "; " + failure);
    }
    if (e.bias().models() == null || !e.temperature().known()) {
      return Unwrapped.unknown("not known yet, because two minutes of lying still are needed");
    }
    long minute = (long) (e.tS() / EVERY_S);
    if (minute != answeredMinute || any.get() != answeredFrom) {
      answeredMinute = minute;
      answeredFrom = any.get();
      answered = answer(any.get(), mine.isPresent(), e);
    }
    return answered;
  }

  private Unwrapped answer(RecordedCooling recorded, boolean own, Evidence e) {
    boolean warm =
        e.temperature().nowC() >= limits.bandLowC() && e.temperature().nowC() <= limits.bandHighC();
    // Before it is warm, what is asked is how it will be then.
    double fromC = warm ? e.temperature().nowC() : recorded.cooling().startC();
    TimeUnwrapped time = new TimeUnwrapped(recorded, own, e.bias().models(), fromC);
    return new Unwrapped(
        time.timeS(limits), time.spreadDps(limits), own ? Unwrapped.OWN : Unwrapped.MATES, null);
  }
}
