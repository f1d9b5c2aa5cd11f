package soakbench.readiness;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import soakbench.drift.still.BiasModel;
import soakbench.drift.still.FastResponse;
import soakbench.model.Estimate;
import soakbench.model.Limits;
import soakbench.model.Spans;
import soakbench.numerics.Measured;
import soakbench.thermal.cooling.Cooling;

/**
 * Holds a tracker's bias curves against a recorded cooling: what the bias would do were it
 * uncovered now. The recorded drop is taken as it was, on the safe side where it has to be carried
 * over to another temperature. Never from the covered time constant, which overstates: bare, the
 * chip follows the air.
 */
final class TimeUnwrapped {
  private static final double QUANTILE = 1.96;

  /** One-sided: what is asked is how long at most. */
  private static final double AT_MOST = 1.645;

  private final Cooling cooling;
  private final List<FastResponse> response;
  private final BiasModel[] models;
  private final double fromC;
  private final double scale;

  /** What {@link #computed} found, by axis and second. */
  private final Measured[][] changes;

  /**
   * @param own whether the cooling is this tracker's own; another's says nothing of its bias
   * @param models the axes' bias curves now
   * @param nowC temperature now, degC
   */
  TimeUnwrapped(RecordedCooling recorded, boolean own, BiasModel[] models, double nowC) {
    this.cooling = recorded.cooling();
    this.response =
        own && recorded.response() != null
            ? recorded.response()
            : Collections.nCopies(3, FastResponse.PRIOR);
    this.models = models;
    this.fromC = nowC;
    this.scale = scale(recorded.cooling(), nowC);
    this.changes = new Measured[3][recorded.cooling().lengthS() + 1];
  }

  /**
   * A warmer tracker falls faster, by its distance to the air. How cold the air was is not known,
   * but not warmer than the coldest reading: so much closer at most. A cooler tracker is taken to
   * fall as fast.
   */
  private static double scale(Cooling cooling, double nowC) {
    return 1 + Math.max(0, nowC - cooling.startC()) / cooling.deepestC();
  }

  /** Change of one axis' bias {@code second} seconds after it was uncovered. */
  private Measured change(int axis, int second) {
    if (changes[axis][second] == null) {
      changes[axis][second] = computed(axis, second);
    }
    return changes[axis][second];
  }

  private Measured computed(int axis, int second) {
    double drop = scale * cooling.dropC()[second];
    double rate = -scale * cooling.rateCPerS()[second];
    Measured curve = models[axis].difference(fromC, fromC - drop);
    double slope = models[axis].slopeAt(fromC - drop).value();
    FastResponse fast = response.get(axis);
    double variance =
        fast.variance(drop, rate, curve.se() * curve.se())
            + Math.pow(slope * scale * cooling.dropSdC(), 2)
            + Math.pow(fast.lagDpsPerCPerS() * scale * cooling.rateSdCPerS(), 2);
    return Measured.ofVariance(curve.value() + fast.addedDps(drop, rate), variance);
  }

  /** Until some axis has moved by the shift limit. */
  Estimate timeS(Limits limits) {
    Double low = reachedS(limits, AT_MOST);
    Double value = reachedS(limits, 0);
    Double high = reachedS(limits, -AT_MOST);
    double end = cooling.lengthS();
    return new Estimate(value == null ? end : value, null, low == null ? end : low, high, null);
  }

  /**
   * When the bias that moves most, so many standard errors added, first reaches the limit; null
   * where it does not within the record.
   */
  private Double reachedS(Limits limits, double errors) {
    double before = farthest(0, errors);
    if (before >= limits.shiftLimitDps()) {
      return 0.0;
    }
    for (int s = 1; s <= cooling.lengthS(); s++) {
      double now = farthest(s, errors);
      if (now >= limits.shiftLimitDps()) {
        return s - (now - limits.shiftLimitDps()) / (now - before);
      }
      before = now;
    }
    return null;
  }

  private double farthest(int second, double errors) {
    double most = 0;
    for (int axis = 0; axis < 3; axis++) {
      Measured c = change(axis, second);
      most = Math.max(most, Math.abs(c.value()) + errors * c.se());
    }
    return most;
  }

  /** Greatest minus least bias within a calibration, each axis. */
  List<Estimate> spreadDps(Limits limits) {
    List<Estimate> out = new ArrayList<>();
    int last = (int) Math.ceil(limits.calibrationS());
    for (int axis = 0; axis < 3; axis++) {
      out.add(
          last > cooling.lengthS()
              ? Estimate.unknown(
                  "a calibration takes "
                      + Spans.inMinutes(limits.calibrationS())
                      + ", and only "
                      + Spans.inMinutes(cooling.lengthS())
                      + " of cooling are recorded")
              : spread(axis, last));
    }
    return out;
  }

  private Estimate spread(int axis, int last) {
    double least = 0;
    double most = 0;
    double se = 0;
    for (int s = 1; s <= last; s++) {
      Measured c = change(axis, s);
      least = Math.min(least, c.value());
      most = Math.max(most, c.value());
      se = Math.max(se, c.se());
    }
    double value = most - least;
    return Estimate.of(value, se, Math.max(0, value - QUANTILE * se), value + QUANTILE * se);
  }
}
