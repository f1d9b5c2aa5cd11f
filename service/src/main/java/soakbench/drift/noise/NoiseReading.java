package soakbench.drift.noise;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import soakbench.model.Estimate;
import soakbench.numerics.SpectralLine;
import soakbench.numerics.allan.AllanFit;

/**
 * N, B and K of one axis (IEEE Std 952's readings): each only where its slope is really there, that
 * is, where the model gives it most of the deviation and the points can't be explained without it.
 */
final class NoiseReading {
  private static final double DEG_PER_SQRT_H = 60;
  private static final double DEG_PER_H = 3600;

  /** Share of the variance that makes a slope. */
  private static final double MOST = 0.5;

  /** Gain of twice the log likelihood that is taken as shown: 1 in 370 by chance. */
  private static final double SHOWN = 9;

  /** A line smaller than this part of the variance leaves the noise white enough. */
  private static final double SMALL_LINE = 0.02;

  private static final String UNRESOLVED = "not resolved in a record this long";

  private final AllanCurve curve;

  private NoiseReading(AllanCurve curve) {
    this.curve = curve;
  }

  static Noise.Axis of(String axis, AllanCurve curve, Optional<SpectralLine> line) {
    int n = curve.points().size();
    double[][] out = new double[4][n];
    for (int i = 0; i < n; i++) {
      out[0][i] = curve.points().get(i).factor();
      out[1][i] = curve.points().get(i).deviation();
      if (out[1][i] > 0) {
        double[] limits = curve.limits(i);
        out[2][i] = limits[0];
        out[3][i] = limits[1];
      }
    }
    NoiseReading it = new NoiseReading(curve);
    String reason = it.reason(line);
    return new Noise.Axis(
        axis,
        new Noise.Deviations(out[0], out[1], out[2], out[3]),
        reason != null ? Estimate.unknown(reason) : it.white(),
        reason != null ? Estimate.unknown(reason) : it.part(1, AllanFit.FLICKER, DEG_PER_H),
        reason != null ? Estimate.unknown(reason) : it.part(2, AllanFit.RANDOM_WALK, 1));
  }

  private String reason(Optional<SpectralLine> line) {
    if (curve.model() == null) {
      return curve.read() == 0
          ? "no stretch is long enough, or the temperature ramps too fast"
          : "the readings do not change: no noise to measure";
    }
    if (line.isPresent() && line.get().share() > SMALL_LINE) {
      return String.format(
          Locale.ROOT,
          "not white: a spectral line at %.3f Hz (or the image of a quicker one) makes %.0f %% of"
              + " the variance",
          line.get().frequencyPerReading(),
          100 * line.get().share());
    }
    return null;
  }

  /** At 1 s. */
  private Estimate white() {
    if (curve.model().share(0, 1) < MOST || curve.read() < 2) {
      return Estimate.unknown("no slope of -1/2 at 1 s: the noise there is not white");
    }
    double slope = slope(0, Math.min(2, curve.read() - 1));
    if (slope < -0.75 || slope > -0.25) {
      return Estimate.unknown("no slope of -1/2 at 1 s: the noise there is not white");
    }
    return estimate(0, DEG_PER_SQRT_H);
  }

  private double slope(int from, int to) {
    var a = curve.points().get(from);
    var b = curve.points().get(to);
    return Math.log(b.deviation() / a.deviation()) / Math.log(b.factor() / (double) a.factor());
  }

  /** B at the floor, or K on the rise. */
  private Estimate part(int part, int bit, double unit) {
    int seen = 0;
    for (int i = 0; i < curve.read(); i++) {
      seen += curve.model().share(part, curve.points().get(i).factor()) >= MOST ? 1 : 0;
    }
    if (seen < 2) {
      return Estimate.unknown(UNRESOLVED);
    }
    List<AllanFit.Reading> readings = curve.readings();
    AllanFit without =
        AllanFit.among(readings, AllanFit.WHITE + AllanFit.FLICKER + AllanFit.RANDOM_WALK - bit);
    AllanFit all = AllanFit.of(readings);
    boolean needed = without == null || 2 * (all.logLikelihood() - without.logLikelihood()) > SHOWN;
    return needed ? estimate(part, unit) : Estimate.unknown(UNRESOLVED);
  }

  /** The root of a part; limits symmetric in its logarithm. */
  private Estimate estimate(int part, double unit) {
    double square = curve.model().parts()[part];
    double value = Math.sqrt(square);
    double relative = Math.sqrt(curve.model().covariance()[part][part]) / (2 * square);
    double factor = Math.exp(1.96 * relative);
    return Estimate.of(
        unit * value, unit * value * relative, unit * value / factor, unit * value * factor);
  }
}
