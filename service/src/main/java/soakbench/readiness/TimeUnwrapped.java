package soakbench.readiness;

import java.util.ArrayList;
import java.util.List;
import soakbench.drift.BiasModel;
import soakbench.drift.ThermalLag;
import soakbench.model.Estimate;
import soakbench.model.Limits;
import soakbench.thermal.Cooling;

/**
 * Holds a tracker's bias curves against a recorded cooling: what the bias would do were it
 * uncovered now. The recorded drop is taken as it was, on the safe side where it has to be carried
 * over to another temperature. Never from the covered time constant, which overstates: bare, the
 * chip follows the air.
 */
final class TimeUnwrapped {
  private static final double QUANTILE = 1.96;

  private final Cooling cooling;
  private final List<ThermalLag> lag;
  private final BiasModel[] models;
  private final double fromC;
  private final double scale;

  /**
   * @param own whether the cooling is this tracker's own; another's says nothing of its lag
   * @param models the axes' bias curves now
   * @param nowC temperature now, degC
   */
  TimeUnwrapped(RecordedCooling recorded, boolean own, BiasModel[] models, double nowC) {
    this.cooling = recorded.cooling();
    this.lag =
        own && recorded.lag() != null
            ? recorded.lag()
            : List.of(ThermalLag.BELIEVED, ThermalLag.BELIEVED, ThermalLag.BELIEVED);
    this.models = models;
    this.fromC = nowC;
    this.scale = scale(recorded.cooling(), nowC);
  }

  /**
   * A warmer tracker falls faster, by its distance to the air. How cold the air was is not known,
   * but not warmer than the coldest reading: so much closer at most. A cooler tracker is taken to
   * fall as fast.
   */
  private static double scale(Cooling cooling, double nowC) {
    return 1 + Math.max(0, nowC - cooling.startC()) / cooling.deepestC();
  }

  /** Change of one axis' bias {@code second} seconds after it was uncovered: mean and error. */
  private double[] change(int axis, int second) {
    double drop = scale * cooling.dropC()[second];
    double rate = -scale * cooling.rateCPerS()[second];
    double[] curve = models[axis].difference(fromC, fromC - drop);
    double slope = models[axis].slopeAt(fromC - drop)[0];
    ThermalLag own = lag.get(axis);
    double mean = curve[0] + own.dpsPerCPerS() * rate;
    double variance =
        curve[1] * curve[1]
            + Math.pow(slope * scale * cooling.dropSdC(), 2)
            + Math.pow(own.se() * rate, 2)
            + Math.pow(own.dpsPerCPerS() * scale * cooling.rateSdCPerS(), 2);
    return new double[] {mean, Math.sqrt(variance)};
  }

  /** Until some axis has moved by the shift limit. */
  Estimate timeS(Limits limits) {
    double limit = limits.shiftLimitDps();
    double low = Double.NaN;
    double value = Double.NaN;
    double high = Double.NaN;
    for (int s = 1; s <= cooling.lengthS() && Double.isNaN(high); s++) {
      double surely = 0;
      double likely = 0;
      double possibly = 0;
      for (int axis = 0; axis < 3; axis++) {
        double[] c = change(axis, s);
        double size = Math.abs(c[0]);
        surely = Math.max(surely, size - QUANTILE * c[1]);
        likely = Math.max(likely, size);
        possibly = Math.max(possibly, size + QUANTILE * c[1]);
      }
      low = Double.isNaN(low) && possibly >= limit ? s - 1 : low;
      value = Double.isNaN(value) && likely >= limit ? s : value;
      high = surely >= limit ? s : high;
    }
    double end = cooling.lengthS();
    return new Estimate(
        Double.isNaN(value) ? end : value,
        null,
        Double.isNaN(low) ? end : low,
        Double.isNaN(high) ? null : high,
        null);
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
                      + Text.duration(limits.calibrationS())
                      + ", and only "
                      + Text.duration(cooling.lengthS())
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
      double[] c = change(axis, s);
      least = Math.min(least, c[0]);
      most = Math.max(most, c[0]);
      se = Math.max(se, c[1]);
    }
    double value = most - least;
    return Estimate.of(
        value, se, Math.max(0, value - QUANTILE * se), value + QUANTILE * se);
  }
}
