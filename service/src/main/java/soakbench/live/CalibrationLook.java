package soakbench.live;

import java.util.List;
import soakbench.drift.CurveAsk;
import soakbench.drift.HeadingAsk;
import soakbench.drift.Noise;
import soakbench.model.Bin;
import soakbench.model.Estimate;
import soakbench.readiness.Calibration;
import soakbench.readiness.CalibrationCheck;

/** Checks one mark by the still minute after it and by what the soak shows of the tracker. */
final class CalibrationLook {
  private CalibrationLook() {}

  static Calibration.Check of(CalibrationAsk ask, Calibration mark, List<Bin> still) {
    long toSecond = still.get(still.size() - 1).second();
    double useC = ask.limits().useTemperatureC();
    SoakDrift drift = SoakDrift.of(ask.from(toSecond), CurveAsk.at(useC), ask.rates());
    double[] whiteDps = new double[3];
    double[] flickerDps = new double[3];
    for (int i = 0; i < 3; i++) {
      Noise.Axis axis = drift.noise().reason() == null ? drift.noise().axes().get(i) : null;
      whiteDps[i] =
          known(axis == null ? null : axis.angleRandomWalkDegPerSqrtH(), 60, secondsSd(still, i));
      flickerDps[i] = known(axis == null ? null : axis.biasInstabilityDegPerH(), 3600, 0);
    }
    CalibrationCheck result =
        CalibrationCheck.of(
            mark.handling(),
            still,
            ask.rates(),
            whiteDps,
            flickerDps,
            drift.heading(HeadingAsk.between(drift.newestC(), useC)));
    return new Calibration.Check(
        still.get(0).firstUs(), still.get(still.size() - 1).lastUs(), ask.rates(), useC, result);
  }

  private static double known(Estimate figure, double scale, double otherwise) {
    return figure != null && figure.known() ? figure.value() / scale : otherwise;
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
