package soakbench.live.arrival;

import java.util.Collections;
import java.util.List;
import java.util.Optional;
import soakbench.model.Estimate;
import soakbench.model.Spans;
import soakbench.model.State;
import soakbench.readiness.Condition;
import soakbench.readiness.Condition.Found;
import soakbench.readiness.Condition.Wanted;
import soakbench.readiness.Heat;
import soakbench.readiness.Readiness;
import soakbench.readiness.Readiness.Figures;
import soakbench.readiness.Readiness.ReadyTime;
import soakbench.readiness.Readiness.Standing;
import soakbench.readiness.Unwrapped;

/**
 * Overlays a soak's verdict with what arrives: arrival decides on heat, silence and the temperature
 * shown, the verdict on all else as long as it is not stale. Times are microseconds of the data's
 * clock, by which the verdicts beside it are dated.
 */
final class VerdictOverlay {
  /** A verdict this far behind what arrives is stale, s. */
  private static final double STALE_S = 15;

  /** Lines may go on without a temperature. */
  private static final long TEMPERATURE_HOLD_US = 30_000_000;

  private static final double CLOCK_OFF_S = 120;

  private final ArrivalState arrived;
  private final Readiness judged;
  private final Readiness published;
  private final Moment now;
  private final boolean stale;
  private final boolean behind;

  private VerdictOverlay(ArrivalState arrived, Readiness judged, Readiness published, Moment now) {
    this.arrived = arrived;
    this.judged = judged;
    this.published = published;
    this.now = now;
    long sinceUs = arrived.unjudged().sinceUs();
    double unjudgedS = Math.max(arrived.unjudged().lengthS(), (arrived.heardUs() - sinceUs) / 1e6);
    this.behind = unjudgedS > STALE_S && now.dataUs() - sinceUs > STALE_S * 1e6;
    this.stale = judged == null || judged.state() == State.SILENT || behind;
  }

  /**
   * The current verdict of a tracker that sent something live.
   *
   * @param judged its open soak's verdict; null where it has none
   * @param hadSoak whether it had one since it was first heard
   * @param published what was shown before; null where nothing was
   */
  static Optional<Readiness> of(
      ArrivalState arrived, Readiness judged, boolean hadSoak, Readiness published, Moment now) {
    VerdictOverlay shown = new VerdictOverlay(arrived, judged, published, now);
    long quietUs = now.dataUs() - arrived.heardUs();
    // A lone line may be a garbled one of another tracker.
    boolean nobody = judged == null && arrived.readings() < 2;
    if (nobody || quietUs > TrackerArrivals.FORGOTTEN_US) {
      return Optional.empty();
    }
    return quietUs > arrived.silentAfterUs()
        ? shown.silent(arrived.heardUs() + arrived.silentAfterUs(), hadSoak)
        : Optional.of(shown.heard());
  }

  private Readiness heard() {
    if (arrived.heat() != null) {
      return hot(arrived.heat());
    }
    return stale ? waiting() : shownAs(judged.state(), judged.sinceUs(), judged.advice());
  }

  private Readiness hot(Heat heat) {
    boolean known = !stale && judged.state() == State.HOT;
    long since = known ? judged.sinceUs() : since(State.HOT);
    Readiness base = stale ? bare("it is too hot") : judged;
    return copy(base, State.HOT, since, heat.advice(), heat, "not known: it is too hot");
  }

  /** It is heard, but has no current verdict. */
  private Readiness waiting() {
    State state = behind ? State.UNDECIDED : State.STARTING;
    String why =
        behind
            ? "can't say: " + trouble() + "; heat is watched all the same"
            : "too little heard yet: a minute is needed";
    String reason = behind ? trouble() : "too little is heard yet";
    Heat heat = headingHot();
    return copy(bare(reason), state, since(state), why, heat, "not known, because " + reason);
  }

  /** The heat that its soak was heading for: while nothing more is judged, it stands. */
  private Heat headingHot() {
    Heat heat = judged == null ? null : judged.heat();
    return heat != null && heat.kind() == Heat.Kind.HEADING_HOT ? heat : null;
  }

  private String trouble() {
    if (arrived.stampUs() == Long.MIN_VALUE) {
      return "its lines are not judged";
    }
    long heardUs = arrived.heardUs() + now.dateUs() - now.dataUs();
    double aheadS = ((double) arrived.stampUs() - heardUs) / 1e6;
    return Math.abs(aheadS) < CLOCK_OFF_S
        ? "its newest lines are not judged yet"
        : "its times can't be used: its clock is "
            + Spans.inLargest(Math.abs(aheadS))
            + side(aheadS);
  }

  private static String side(double aheadS) {
    return aheadS > 0 ? " ahead" : " behind";
  }

  private Optional<Readiness> silent(long fromUs, boolean hadSoak) {
    if (judged != null && judged.state() == State.SILENT) {
      return Optional.of(shownAs(State.SILENT, judged.sinceUs(), judged.advice()));
    }
    boolean blind = behind || !hadSoak && arrived.heat() != null;
    if (judged == null && !blind) {
      // Its soak was ended, and nothing comes any more.
      return Optional.empty();
    }
    Readiness base = judged == null ? bare("nothing is heard") : judged;
    State before = judged == null ? null : interrupted();
    Long until = before == null ? null : Long.valueOf(fromUs);
    boolean goesOn = published != null && published.state() == State.SILENT;
    Standing standing =
        new Standing(
            State.SILENT,
            goesOn ? published.sinceUs() : fromUs,
            before,
            until,
            base.conditions().stream().map(c -> unheard(c, fromUs)).toList(),
            Readiness.SILENT_ADVICE);
    Heat heat = arrived.heat() == null ? base.heat() : arrived.heat();
    return Optional.of(over(base, standing, ReadyTime.unknown("nothing is heard"), heat));
  }

  /** The verdict with the newest temperature and what arrival decides. */
  private Readiness over(Readiness base, Standing standing, ReadyTime readyTime, Heat heat) {
    return new Readiness(
        base.tracker(),
        base.soak(),
        standing,
        base.figures().withTemperatureC(temperatureC(base)),
        readyTime,
        base.unwrapped(),
        heat);
  }

  private State interrupted() {
    return judged.state() == State.DISTURBED && judged.standing().before() != null
        ? judged.standing().before()
        : judged.state();
  }

  private Condition unheard(Condition c, long fromUs) {
    if (!c.name().equals("heard")) {
      return c;
    }
    double limitS = (fromUs - arrived.heardUs()) / 1e6;
    String reason = "nothing heard for " + Spans.inLargest(limitS);
    return new Condition("heard", false, Found.of(limitS), Wanted.below(limitS), "s", reason);
  }

  /** The verdict as it is, with the newest temperature. */
  private Readiness shownAs(State state, long sinceUs, String advice) {
    Standing was = judged.standing();
    Standing standing =
        new Standing(state, sinceUs, was.before(), was.beforeUntilUs(), was.conditions(), advice);
    Heat heat = judged.heat() == null && state == State.SILENT ? arrived.heat() : judged.heat();
    return over(judged, standing, judged.readyTime(), heat);
  }

  private Readiness copy(
      Readiness base, State state, long sinceUs, String advice, Heat heat, String whyNoTime) {
    List<Condition> conditions = base.conditions().stream().map(c -> notHot(c, heat)).toList();
    Standing standing = new Standing(state, sinceUs, null, null, conditions, advice);
    return over(base, standing, ReadyTime.unknown(whyNoTime), heat);
  }

  private Condition notHot(Condition c, Heat heat) {
    if (!c.name().equals("not_hot") || heat == null) {
      return c;
    }
    return new Condition(
        c.name(), false, Found.of(arrived.temperatureC()), c.wanted(), c.unit(), heat.reason());
  }

  /** A verdict that says only that it is there. */
  private Readiness bare(String reason) {
    List<Estimate> shifts = Collections.nCopies(3, Estimate.unknown(reason));
    return new Readiness(
        arrived.tracker(),
        judged == null ? null : judged.soak(),
        new Standing(State.STARTING, arrived.heardUs(), null, null, List.of(), null),
        new Figures(arrived.heardUs(), null, null, null, shifts),
        ReadyTime.unknown("not known, because " + reason),
        Unwrapped.unknown("not known, because " + reason),
        null);
  }

  private long since(State state) {
    return published != null && published.state() == state ? published.sinceUs() : now.dataUs();
  }

  private Double temperatureC(Readiness base) {
    boolean fresh =
        arrived.temperature() != null
            && arrived.heardUs() - arrived.temperature().atUs() <= TEMPERATURE_HOLD_US;
    return fresh ? arrived.temperatureC() : base.temperatureC();
  }
}
