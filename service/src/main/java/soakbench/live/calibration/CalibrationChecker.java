package soakbench.live.calibration;

import java.util.ArrayList;
import java.util.List;
import soakbench.drift.calibration.HandlingSeen;
import soakbench.drift.calibration.ResidualRate;
import soakbench.drift.curve.BiasCurve;
import soakbench.drift.curve.CurveAsk;
import soakbench.drift.heading.Heading;
import soakbench.drift.heading.HeadingAnalysis;
import soakbench.drift.heading.HeadingAsk;
import soakbench.drift.noise.Noise;
import soakbench.live.deriving.SoakDrift;
import soakbench.model.Bin;
import soakbench.model.Estimate;
import soakbench.model.Tracker.Rates;
import soakbench.readiness.Calibration;
import soakbench.readiness.CalibrationCheck;

/**
 * Checks one calibration by its poses, the still minute after it and what the soak shows of the
 * unit.
 */
final class CalibrationChecker {
  /** Within this much a minute of any unit's check tells as much as its use would, degC. */
  private static final double NEAR_USE_C = 0.2;

  private CalibrationChecker() {}

  static Calibration.Check of(CalibrationInput input, Calibration calibration, List<Bin> still) {
    return new Calibration.Check(
        still.get(0).firstUs(),
        still.get(still.size() - 1).lastUs(),
        input.rates(),
        input.limits().useTemperatureC(),
        check(input, calibration.handling(), still));
  }

  private static CalibrationCheck check(
      CalibrationInput input, HandlingSeen seen, List<Bin> still) {
    double useC = input.limits().useTemperatureC();
    long toSecond = still.get(still.size() - 1).second();
    SoakDrift drift = SoakDrift.of(input.from(toSecond), CurveAsk.at(useC), input.rates());
    if (drift.rates() == Rates.UNKNOWN) {
      return CalibrationCheck.unknown(
          "nobody has said what its firmware takes off its rates: set it in the roster");
    }
    List<Estimate> residualDps =
        ResidualRate.of(
            seen,
            input.before(seen),
            input.handled(seen),
            still,
            drift.rates(),
            whiteDps(drift, still),
            tempcoDpsPerC(drift));
    return CalibrationCheck.of(seen, residualDps, toUse(drift, useC));
  }

  /** By the curve, however far; so near to use that no coefficient matters also without one. */
  private static Heading toUse(SoakDrift drift, double useC) {
    HeadingAsk ask = HeadingAsk.extrapolated(drift.newestC(), useC);
    Heading curve = drift.heading(ask);
    boolean near = Math.abs(useC - drift.newestC()) <= NEAR_USE_C;
    boolean hidden = drift.rates() == Rates.FOLLOWS;
    return near && !hidden && drift.curve().curve().reason() != null
        ? HeadingAnalysis.ofAnyUnit(ask)
        : curve;
  }

  private static double[] whiteDps(SoakDrift drift, List<Bin> still) {
    double[] whiteDps = new double[3];
    for (int i = 0; i < 3; i++) {
      Noise.Axis axis = drift.noise().reason() == null ? drift.noise().axes().get(i) : null;
      Estimate walk = axis == null ? null : axis.angleRandomWalkDegPerSqrtH();
      whiteDps[i] = walk != null && walk.known() ? walk.value() / 60 : secondsSd(still, i);
    }
    return whiteDps;
  }

  private static List<Estimate> tempcoDpsPerC(SoakDrift drift) {
    BiasCurve curve = drift.curve().curve();
    List<Estimate> out = new ArrayList<>();
    for (int i = 0; i < 3; i++) {
      out.add(
          curve.reason() == null
              ? curve.axes().get(i).figures().tempcoDpsPerC()
              : Estimate.unknown(curve.reason()));
    }
    return out;
  }

  /** White noise as the scatter of one-second means: the Allan deviation at 1 s is N. */
  private static double secondsSd(List<Bin> still, int axis) {
    double sum = 0;
    for (int i = 1; i < still.size(); i++) {
      double step = still.get(i).gyroDps()[axis].mean() - still.get(i - 1).gyroDps()[axis].mean();
      sum += step * step;
    }
    return Math.sqrt(sum / (2 * (still.size() - 1)));
  }
}
