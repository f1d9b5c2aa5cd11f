package soakbench.live.alarm;

import java.util.List;
import java.util.function.Predicate;
import java.util.function.UnaryOperator;
import java.util.stream.Collectors;
import soakbench.live.EventClock;
import soakbench.live.Listener;
import soakbench.model.AlarmCause;
import soakbench.model.AlarmCause.About;
import soakbench.model.AlarmCause.Found;
import soakbench.model.AlarmCause.Kind;
import soakbench.model.AlarmCause.Severity;
import soakbench.readiness.Heat;
import soakbench.readiness.Readiness;

/**
 * Raises the trackers' alarms from their verdicts: too hot and heating too fast at once, silent in
 * mid-soak once it is clear whether it is one or a whole rack ({@link SilentAlarms}). One that is
 * no longer hot enough for {@code hot} but was when it fell silent keeps its alarm: there is
 * nothing newer. Both alarms of heat end together, when the verdict is no longer hot.
 */
public final class TrackerAlarms implements Listener {
  private final AlarmRegistry registry;
  private final EventClock clock;
  private volatile UnaryOperator<String> rackOf = tracker -> "";
  private volatile Predicate<Readiness> calibratedAndGood = verdict -> false;
  private volatile Predicate<String> heard = tracker -> true;
  private final SilentAlarms silent;

  /**
   * @param clock by which spans are counted
   */
  public TrackerAlarms(AlarmRegistry registry, EventClock clock) {
    this.registry = registry;
    this.clock = clock;
    this.silent =
        new SilentAlarms(
            registry, t -> rackOf.apply(t), v -> calibratedAndGood.test(v), t -> heard.test(t));
  }

  /**
   * Sets where racks, calibrations and what was heard are known from: before, no tracker has a
   * rack, none was calibrated, and all were heard.
   *
   * @param rackOf the rack of a tracker; empty where it has none
   * @param calibratedAndGood whether a silent tracker was calibrated in its soak and found good
   * @param heard whether anything of now was heard of a tracker since the start
   */
  public void configure(
      UnaryOperator<String> rackOf,
      Predicate<Readiness> calibratedAndGood,
      Predicate<String> heard) {
    this.rackOf = rackOf;
    this.calibratedAndGood = calibratedAndGood;
    this.heard = heard;
  }

  @Override
  public void judged(List<Readiness> verdicts) {
    verdicts.forEach(verdict -> take(verdict, clock.runningUs()));
  }

  /**
   * Checks all open soaks, about once a second: one that is over, ended by a person or by long
   * silence, has no alarm. One thread at a time.
   */
  public void soaking(List<Readiness> verdicts) {
    long nowUs = clock.runningUs();
    registry.goneButFor(
        verdicts.stream().map(Readiness::tracker).collect(Collectors.toSet()), nowUs);
    silent.check(verdicts, nowUs, clock.nowUs());
  }

  private void take(Readiness verdict, long nowUs) {
    if (verdict.heat() == null) {
      registry.gone(Kind.HOT, verdict.tracker(), nowUs);
      registry.gone(Kind.FAST_RISE, verdict.tracker(), nowUs);
      registry.gone(Kind.HEADING_HOT, verdict.tracker(), nowUs);
    } else {
      registry.report(heat(verdict.tracker(), verdict.heat()), nowUs);
    }
  }

  private static AlarmCause heat(String tracker, Heat heat) {
    return new AlarmCause(
        kind(heat),
        Severity.SEVERE,
        new About(tracker, null),
        new Found(heat.value(), heat.limit(), heat.unit()),
        tracker + ": " + heat.reason() + since(heat) + ".",
        heat.kind() == Heat.Kind.HEADING_HOT
            ? "Uncover it soon, off the charger; the cell may be hotter than the sensor."
            : "Uncover it now, off the charger, and keep to the cell maker's limits; the cell may"
                + " be hotter than the sensor.");
  }

  /** An alarm's text stays as it was raised; the tile goes on counting. */
  private static String since(Heat heat) {
    return heat.passesAtUs() == null ? "" : " from when this was raised";
  }

  private static Kind kind(Heat heat) {
    return switch (heat.kind()) {
      case HOT -> Kind.HOT;
      case FAST_RISE -> Kind.FAST_RISE;
      case HEADING_HOT -> Kind.HEADING_HOT;
    };
  }
}
