package soakbench.readiness;

import java.io.Serializable;
import java.util.List;
import soakbench.model.Axes;
import soakbench.model.Limits;
import soakbench.model.Spans;
import soakbench.readiness.Condition.Found;
import soakbench.readiness.Condition.Wanted;
import soakbench.readiness.estimator.Answer;
import soakbench.readiness.estimator.TostInterval;

/** Holds evidence against the limits, one condition at a time. */
final class Conditions implements Serializable {
  private final Limits limits;

  Conditions(Limits limits) {
    this.limits = limits;
  }

  boolean inBand(double temperatureC, double marginC) {
    return temperatureC >= limits.bandLowC() - marginC
        && temperatureC <= limits.bandHighC() + marginC;
  }

  /** Whether drift is shown, not merely not excluded. */
  boolean driftShown(Evidence e) {
    TostInterval rate = e.temperature().rate();
    return rate != null && rate.outside(limits.temperatureRateLimitCPerMin())
        || e.bias().shifts() != null
            && e.bias().shifts().worstDps().outside(limits.shiftLimitDps());
  }

  boolean still(Evidence e) {
    return e.tS() - e.lines().movedS() >= limits.stillForS();
  }

  boolean heard(Evidence e) {
    return e.lines().gapS() <= limits.gapLimitS();
  }

  private boolean nearUse(Evidence e) {
    return limits.nearUseLimitDegPerMin() == null
        || e.bias().nearUseDegPerMin() <= limits.nearUseLimitDegPerMin();
  }

  /** All eight, as people and programs see them. */
  List<Condition> list(Evidence e) {
    return List.of(
        heardCondition(e),
        stillCondition(e),
        bandCondition(e),
        nearUseCondition(e),
        rateCondition(e),
        shiftCondition(e),
        dwellCondition(e),
        hotCondition(e));
  }

  private Condition heardCondition(Evidence e) {
    return new Condition(
        "heard",
        heard(e),
        Found.of(e.lines().gapS()),
        Wanted.below(limits.gapLimitS()),
        "s",
        heard(e)
            ? null
            : "a gap of " + Spans.inMinutes(e.lines().gapS()) + " within the last minute");
  }

  /** The same conditions when nothing is heard any more: all but that stand as they were. */
  List<Condition> unheard(List<Condition> before, double silentAfterS) {
    Condition silent = silentCondition(silentAfterS);
    return before.stream().map(c -> c.name().equals("heard") ? silent : c).toList();
  }

  private static Condition silentCondition(double limit) {
    String reason = "nothing heard for " + Spans.inMinutes(limit);
    return new Condition("heard", false, Found.of(limit), Wanted.below(limit), "s", reason);
  }

  private Condition stillCondition(Evidence e) {
    double ago = Math.min(e.tS() - e.lines().movedS(), e.tS());
    boolean seen = e.lines().showMotion();
    Boolean met = seen ? Boolean.valueOf(still(e)) : null;
    Double value = seen ? Double.valueOf(ago) : null;
    String reason =
        !e.lines().rates()
            ? "its lines carry no rates"
            : e.lines().tooSlow()
                ? "fewer than five readings in ten seconds: too slow to see motion"
                : met ? null : "moved " + Spans.inMinutes(ago) + " ago";
    return new Condition(
        "still", met, Found.of(value), Wanted.above(limits.stillForS()), "s", reason);
  }

  private Condition bandCondition(Evidence e) {
    boolean known = e.temperature().known();
    boolean met = known && inBand(e.temperature().nowC(), 0);
    double below = limits.bandLowC() - e.temperature().nowC();
    String reason =
        !known
            ? "no temperature in its lines yet"
            : met
                ? null
                : below > 0
                    ? "below the band by " + NumberWords.degrees(below)
                    : "above the band by "
                        + NumberWords.degrees(e.temperature().nowC() - limits.bandHighC());
    return new Condition(
        "operating_band",
        known ? met : null,
        Found.of(known ? e.temperature().nowC() : null),
        new Wanted(limits.bandLowC(), limits.bandHighC()),
        "degC",
        reason);
  }

  private Condition nearUseCondition(Evidence e) {
    boolean known = !Double.isNaN(e.bias().nearUseDegPerMin());
    boolean met = nearUse(e);
    return new Condition(
        "near_use",
        known ? met : null,
        Found.of(known ? e.bias().nearUseDegPerMin() : null),
        new Wanted(null, limits.nearUseLimitDegPerMin()),
        "deg/min",
        !known ? whyNoCurve(e) : met ? null : "its bias at the use temperature differs");
  }

  private static String whyNoCurve(Evidence e) {
    return e.bias().shiftReason() == null
        ? "two minutes of lying still are needed first"
        : e.bias().shiftReason();
  }

  private Condition rateCondition(Evidence e) {
    double limit = limits.temperatureRateLimitCPerMin();
    TostInterval r = e.temperature().rate();
    if (r == null) {
      return new Condition(
          "temperature_settled",
          null,
          Found.NOTHING,
          Wanted.within(limit),
          "degC/min",
          e.temperature().rateReason());
    }
    boolean met = r.within(limit);
    Boolean answer = met ? Boolean.TRUE : r.outside(limit) ? Boolean.FALSE : null;
    String reason =
        met
            ? null
            : r.outside(limit)
                ? NumberWords.number(r.value(), 2)
                    + " of "
                    + NumberWords.number(limit, 2)
                    + " °C/min"
                : "not shown yet to be within " + NumberWords.number(limit, 2) + " °C/min";
    return new Condition(
        "temperature_settled", answer, Found.of(r), Wanted.within(limit), "degC/min", reason);
  }

  private Condition shiftCondition(Evidence e) {
    double limit = limits.shiftLimitDps();
    Answer.Shifts shifts = e.bias().shifts();
    if (shifts == null) {
      return new Condition(
          "shift", null, Found.NOTHING, Wanted.within(limit), "deg/s", e.bias().shiftReason());
    }
    TostInterval s = shifts.worstDps();
    String axis = Axes.NAMES.get(shifts.worstAxis()) + " axis";
    boolean met = shifts.within();
    boolean shown = s.outside(limit);
    String reason =
        met
            ? null
            : shown
                ? axis
                    + ": "
                    + NumberWords.number(s.value(), 3)
                    + " of "
                    + NumberWords.number(limit, 3)
                    + " °/s"
                : axis + " not shown yet to stay within " + NumberWords.number(limit, 3) + " °/s";
    return new Condition(
        "shift",
        met ? Boolean.TRUE : shown ? Boolean.FALSE : null,
        Found.of(s),
        Wanted.within(limit),
        "deg/s",
        reason);
  }

  private Condition dwellCondition(Evidence e) {
    double heldS = e.dwell().heldS();
    double neededS = e.dwell().neededS();
    boolean met = heldS >= neededS;
    return new Condition(
        "dwell",
        met,
        Found.of(heldS),
        Wanted.above(neededS),
        "s",
        met ? null : "all conditions must hold for " + Spans.inMinutes(neededS));
  }

  private Condition hotCondition(Evidence e) {
    boolean known = e.temperature().known();
    return new Condition(
        "not_hot",
        known ? e.hotReason() == null : null,
        Found.of(known ? e.temperature().nowC() : null),
        Wanted.below(limits.hotC()),
        "degC",
        known ? e.hotReason() : "no temperature yet");
  }
}
