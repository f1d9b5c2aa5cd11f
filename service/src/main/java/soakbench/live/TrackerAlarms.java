package soakbench.live;

import java.util.List;
import java.util.stream.Collectors;
import soakbench.model.Alarm.Kind;
import soakbench.model.Alarm.Severity;
import soakbench.model.AlarmCause;
import soakbench.model.State;
import soakbench.readiness.Heat;
import soakbench.readiness.Readiness;

/**
 * Raises the trackers' alarms from their verdicts: too hot, heating too fast, silent in mid-soak.
 * One that is no longer hot enough for {@code hot} but was when it fell silent keeps its alarm:
 * nobody knows better. Both alarms of heat end together, when the verdict is no longer hot.
 */
public final class TrackerAlarms implements Listener {
  private final AlarmBook book;
  private final EventClock clock;

  /**
   * @param clock dates the alarms
   */
  public TrackerAlarms(AlarmBook book, EventClock clock) {
    this.book = book;
    this.clock = clock;
  }

  @Override
  public void judged(List<Readiness> verdicts) {
    verdicts.forEach(verdict -> take(verdict, clock.nowUs()));
  }

  /** A soak that is over, ended by a person or by long silence, has no alarm. */
  public void soaking(List<Readiness> verdicts) {
    book.goneButFor(
        verdicts.stream().map(Readiness::tracker).collect(Collectors.toSet()), clock.nowUs());
  }

  private void take(Readiness verdict, long nowUs) {
    if (verdict.heat() == null) {
      book.gone(Kind.HOT, verdict.tracker(), nowUs);
      book.gone(Kind.FAST_RISE, verdict.tracker(), nowUs);
      book.gone(Kind.HEADING_HOT, verdict.tracker(), nowUs);
    } else {
      book.report(heat(verdict.tracker(), verdict.heat()), nowUs);
    }
    if (verdict.state() == State.SILENT) {
      book.report(silent(verdict), nowUs);
    } else {
      book.gone(Kind.SILENT, verdict.tracker(), nowUs);
    }
  }

  private static AlarmCause heat(String tracker, Heat heat) {
    return new AlarmCause(
        kind(heat),
        Severity.SEVERE,
        tracker,
        heat.value(),
        heat.limit(),
        heat.unit(),
        tracker + ": " + heat.reason() + ".",
        heat.kind() == Heat.Kind.HEADING_HOT
            ? "Uncover it soon, off the charger; the cell may be hotter than the sensor."
            : "Uncover it now, off the charger, and keep to the cell maker's limits; the cell may"
                + " be hotter than the sensor.");
  }

  private static Kind kind(Heat heat) {
    return switch (heat.kind()) {
      case HOT -> Kind.HOT;
      case FAST_RISE -> Kind.FAST_RISE;
      case HEADING_HOT -> Kind.HEADING_HOT;
    };
  }

  private static AlarmCause silent(Readiness verdict) {
    String before = verdict.before() == null ? "" : "; it was " + verdict.before().word();
    return AlarmCause.plain(
        Kind.SILENT,
        Severity.WARNING,
        verdict.tracker(),
        verdict.tracker() + ": nothing is heard in mid-soak" + before + ".",
        "Nobody sees how hot it is: look at it, then at its cable, port or battery. If it was taken"
            + " off, end its soak.");
  }
}
