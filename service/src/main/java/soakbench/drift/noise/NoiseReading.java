package soakbench.drift.noise;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import soakbench.model.Estimate;
import soakbench.numerics.SpectralLine;
import soakbench.numerics.allan.AllanFit;

/**
 * N, B and K of one axis (IEEE Std 952's readings): each only where its slope is really there, that
 * is, where the model gives it most of the deviation, the points themselves have the slope, and
 * they can't be explained without it.
 */
final class NoiseReading {
  /** Slopes are told apart halfway between -1/2, 0 and +1/2. */
  private static final double HALFWAY = 0.25;

  /** A line smaller than this part of the variance leaves the noise white enough. */
  private static final double SMALL_LINE = 0.02;

  private static final String NOT_WHITE = "no slope of -1/2 at 1 s: the noise there is not white";

  private final AllanCurve curve;

  private NoiseReading(AllanCurve curve) {
    this.curve = curve;
  }

  /**
   * Reads an axis.
   *
   * @param line a spectral line in its rates
   * @param stillWarm why what the temperature does to the bias is still in them; null where the
   *     bias curve was taken off
   * @param within N by the scatter within seconds, for where the deviations don't tell it
   */
  static Noise.Axis of(
      String axis,
      AllanCurve curve,
      Optional<SpectralLine> line,
      String stillWarm,
      Optional<Estimate> within) {
    NoiseReading it = new NoiseReading(curve);
    String reason = it.reason(line);
    Estimate white = reason != null ? Estimate.unknown(reason) : it.white();
    Optional<Estimate> instead =
        white.known() ? Optional.empty() : within.filter(n -> it.bears(n, line));
    return new Noise.Axis(
        axis,
        it.deviations(),
        instead.orElse(white),
        reason != null ? white : FloorReading.of(curve),
        reason != null ? white : it.walk(stillWarm),
        instead.isPresent() ? WithinSeconds.note(white.reason()) : null);
  }

  private Noise.Deviations deviations() {
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
    return new Noise.Deviations(out[0], out[1], out[2], out[3]);
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
    if (curve.model().share(0, 1) < NoisePart.MOST || curve.read() < 2) {
      return Estimate.unknown(NOT_WHITE);
    }
    double slope = slope(0, Math.min(2, curve.read() - 1));
    if (slope < -0.5 - HALFWAY || slope > -0.5 + HALFWAY) {
      return Estimate.unknown(NOT_WHITE);
    }
    return NoisePart.estimate(curve.model(), 0, NoisePart.DEG_PER_SQRT_H);
  }

  /**
   * White noise is part of the deviation at 1 s, so that is no less; and what a line makes of that
   * is none of it. Where the scatter within seconds is more, a quick line is in it, or it is not
   * white.
   */
  private boolean bears(Estimate within, Optional<SpectralLine> line) {
    if (curve.model() == null) {
      return true;
    }
    double lines = line.map(NoiseReading::lineInVariance).orElse(0.0);
    return within.low() <= NoisePart.DEG_PER_SQRT_H * curve.limits(0)[1] / Math.sqrt(1 + lines);
  }

  /** Allan variance of a line at one reading, in those of the white noise beside it. */
  private static double lineInVariance(SpectralLine line) {
    double sine = Math.sin(Math.PI * line.frequencyPerReading());
    return 2 * line.share() / (1 - line.share()) * sine * sine;
  }

  private double slope(int from, int to) {
    var a = curve.points().get(from);
    var b = curve.points().get(to);
    return Math.log(b.deviation() / a.deviation()) / Math.log(b.factor() / (double) a.factor());
  }

  private Estimate walk(String stillWarm) {
    if (!rises()) {
      return Estimate.unknown(NoisePart.UNRESOLVED);
    }
    return stillWarm == null
        ? NoisePart.estimate(curve.model(), 2, 1)
        : Estimate.unknown(
            "what the temperature does to the bias looks like it, and was not taken off: "
                + stillWarm);
  }

  /** Whether the slope of +1/2 is there: where K makes most of it, and needed to explain it. */
  private boolean rises() {
    int last = curve.read() - 1;
    int first = 0;
    while (first <= last
        && curve.model().share(2, curve.points().get(first).factor()) < NoisePart.MOST) {
      first++;
    }
    if (first >= last || slope(first, last) < HALFWAY) {
      return false;
    }
    List<AllanFit.Reading> readings = curve.readings();
    AllanFit without = AllanFit.among(readings, AllanFit.WHITE + AllanFit.FLICKER);
    return NoisePart.shown(AllanFit.of(readings), without);
  }
}
