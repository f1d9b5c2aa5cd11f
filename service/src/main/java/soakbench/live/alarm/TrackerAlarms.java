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
 * no longer hot enough for {@code hot} but was when it fell silent keeps its alarm: nobody knows
 * better. Both alarms of heat end together, when the verdict is no longer hot.
 */
public final class TrackerAlarms implements Listener {
  private final AlarmBook book;
  private final EventClock clock;
  private volatile UnaryOperator<String> rackOf = tracker -> "";
  private volatile Predicate<Readiness> kept = verdict -> false;
  private volatile Predicate<String> heard = tracker -> true;
  private final SilentAlarms silent;

  /**
   * @param clock by which spans are counted
   */
  public TrackerAlarms(AlarmBook book, EventClock clock) {
    this.book = book;
    this.clock = clock;
    this.silent =
        new SilentAlarms(book, t -> rackOf.apply(t), v -> kept.test(v), t -> heard.test(t));
  }

  /**
   * Says whom to ask from now on: at first no tracker has a rack, none was calibrated, and all were
   * heard.
   *
   * @param rackOf the rack of a tracker; empty where it has none
   * @param kept whether a silent tracker was calibrated in its soak and that is to be kept
   * @param heard whether anything of now was heard of a tracker since the start
   */
  public void ask(
      UnaryOperator<String> rackOf, Predicate<Readiness> kept, Predicate<String> heard) {
    this.rackOf = rackOf;
    this.kept = kept;
    this.heard = heard;
  }

  @Override
  public void judged(List<Readiness> verdicts) {
    verdicts.forEach(verdict -> take(verdict, clock.runningUs()));
  }

  /**
   * Looks at all open soaks, about once a second: one that is over, ended by a person or by long
   * silence, has no alarm. One thread at a time.
   */
  public void soaking(List<Readiness> verdicts) {
    long nowUs = clock.runningUs();
    book.goneButFor(verdicts.stream().map(Readiness::tracker).collect(Collectors.toSet()), nowUs);
    silent.look(verdicts, nowUs, clock.nowUs());
  }

  private void take(Readiness verdict, long nowUs) {
    if (verdict.heat() == null) {
      book.gone(Kind.HOT, verdict.tracker(), nowUs);
      book.gone(Kind.FAST_RISE, verdict.tracker(), nowUs);
      book.gone(Kind.HEADING_HOT, verdict.tracker(), nowUs);
    } else {
      book.report(heat(verdict.tracker(), verdict.heat()), nowUs);
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

  /** An alarm's words stay as they were raised; the tile goes on counting. */
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
