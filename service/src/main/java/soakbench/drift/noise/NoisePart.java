package soakbench.drift.noise;

import soakbench.model.Estimate;
import soakbench.numerics.allan.AllanFit;

/** When a part of the noise counts as there, and how its figure is told. */
final class NoisePart {
  /** Share of the variance that makes a slope. */
  static final double MOST = 0.5;

  static final double DEG_PER_SQRT_H = 60;
  static final double DEG_PER_H = 3600;

  static final String UNRESOLVED = "not resolved in a record this long";

  /** Gain of twice the log likelihood that is taken as shown: 1 in 370 by chance. */
  private static final double SHOWN = 9;

  private NoisePart() {}

  /** Whether the deviations can't be explained without what the one has more than the other. */
  static boolean shown(AllanFit with, AllanFit without) {
    return without == null || 2 * (with.logLikelihood() - without.logLikelihood()) > SHOWN;
  }

  /** The root of a part (0 N, 1 B, 2 K). */
  static Estimate estimate(AllanFit fit, int part, double unit) {
    return root(fit.parts()[part], fit.covariance()[part][part], unit);
  }

  /**
   * The root of a square; limits symmetric in its logarithm.
   *
   * @param variance of the square
   */
  static Estimate root(double square, double variance, double unit) {
    double value = Math.sqrt(square);
    double relative = Math.sqrt(variance) / (2 * square);
    double factor = Math.exp(1.96 * relative);
    return Estimate.of(
        unit * value, unit * value * relative, unit * value / factor, unit * value * factor);
  }
}
