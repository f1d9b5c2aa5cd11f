package soakbench.drift.noise;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import soakbench.drift.curve.BiasCurve;
import soakbench.drift.curve.StillSoak;
import soakbench.drift.still.TemperatureCourse;
import soakbench.model.Axes;
import soakbench.model.Bin;
import soakbench.numerics.SpectralLine;

/**
 * Noise of a soak's still seconds: overlapping Allan deviation at octaves from 1 s, the bias curve
 * taken off, without those stretches in which what was taken off is more than three tenths of the
 * deviation.
 */
public final class NoiseAnalysis {
  private static final int LEAST_SECONDS = 64;

  private NoiseAnalysis() {}

  /**
   * The noise.
   *
   * @param soak the soak's still seconds
   * @param curve its bias curve; where there is none, nothing is taken off
   */
  public static Noise of(StillSoak soak, BiasCurve curve) {
    List<List<Bin>> pieces = soak.pieces();
    int longest = pieces.stream().mapToInt(List::size).max().orElse(0);
    if (longest < LEAST_SECONDS) {
      return Noise.unknown(
          "needs "
              + LEAST_SECONDS
              + " s of lying still without a gap; the longest was "
              + longest
              + " s"
              + (soak.blocks().isEmpty() ? ": " + soak.whyNoBlocks() : ""));
    }
    TemperatureCourse course = soak.course();
    List<double[]> celsius =
        pieces.stream().map(p -> course.seldom() ? between(p, course) : newest(p)).toList();
    List<Noise.Axis> axes = new ArrayList<>();
    for (int axis = 0; axis < 3; axis++) {
      axes.add(axis(pieces, celsius, curve, axis));
    }
    return new Noise(soak.sampleRateHz(), axes, null);
  }

  private static Noise.Axis axis(
      List<List<Bin>> pieces, List<double[]> celsius, BiasCurve curve, int axis) {
    List<double[]> ramps = celsius.stream().map(c -> ramp(c, curve, axis)).toList();
    List<double[]> rates = new ArrayList<>();
    for (int i = 0; i < ramps.size(); i++) {
      rates.add(without(pieces.get(i), ramps.get(i), axis));
    }
    AllanCurve points = AllanCurve.of(rates, ramps);
    return NoiseReading.of(
        Axes.NAMES.get(axis),
        points,
        line(rates),
        stillWarm(curve, axis),
        WithinSeconds.whiteDegPerSqrtH(pieces, axis));
  }

  /** Why no bias curve was taken off; null where one was. */
  private static String stillWarm(BiasCurve curve, int axis) {
    return curve.reason() != null ? curve.reason() : curve.axes().get(axis).reason();
  }

  /** In the longest piece. */
  private static Optional<SpectralLine> line(List<double[]> rates) {
    double[] longest = rates.get(0);
    for (double[] piece : rates) {
      longest = piece.length > longest.length ? piece : longest;
    }
    return SpectralLine.in(longest);
  }

  /** Straight between what is seldom known: a held reading, or a coarse step, would jump. */
  private static double[] between(List<Bin> piece, TemperatureCourse course) {
    return piece.stream().mapToDouble(bin -> course.atC(bin.second())).toArray();
  }

  /** The newest temperature at each second, degC; NaN before the first. */
  private static double[] newest(List<Bin> piece) {
    double[] out = new double[piece.size()];
    double last = Double.NaN;
    for (int i = 0; i < out.length; i++) {
      Bin.Channel c = piece.get(i).temperatureC();
      last = c.count() > 0 ? c.mean() : last;
      out[i] = last;
    }
    return out;
  }

  /** What the curve makes of the temperature. */
  private static double[] ramp(double[] celsius, BiasCurve curve, int axis) {
    double[] out = new double[celsius.length];
    if (curve.reason() != null) {
      return out;
    }
    double[] c = curve.axes().get(axis).powers().coefficients();
    for (int i = 0; i < out.length; i++) {
      if (!Double.isNaN(celsius[i])) {
        double u = celsius[i] - curve.temperatures().referenceC();
        for (int k = c.length - 1; k >= 1; k--) {
          out[i] = (out[i] + c[k]) * u;
        }
      }
    }
    return out;
  }

  private static double[] without(List<Bin> piece, double[] ramp, int axis) {
    double[] rates = new double[ramp.length];
    for (int i = 0; i < rates.length; i++) {
      rates[i] = piece.get(i).gyroDps()[axis].mean() - ramp[i];
    }
    return rates;
  }
}
