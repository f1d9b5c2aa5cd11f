package soakbench.thermal;

import java.io.Serializable;

/**
 * Finds the thermometer's step from its readings, and whether its own noise carries it over the
 * steps. Not thread-safe.
 */
final class ThermometerStep implements Serializable {
  private static final int REPEATS = 3;

  /**
   * From this step on readings are taken as intervals; below, the step is little beside what rooms
   * do, degC.
   */
  private static final double COARSE_C = 0.2;

  private static final double MINUTE_C = 0.03;

  /** With less noise than this, in steps, the sawtooth has its corners. */
  private static final double SMALL_NOISE = 0.1;

  private double stepC = Double.POSITIVE_INFINITY;
  private double lastC = Double.NaN;
  private double levelC = Double.NaN;
  private double noiseC = Double.NaN;
  private int repeats;

  void accept(double temperatureC, double sdC, double seenStepC) {
    if (seenStepC > 1e-4) {
      stepC = Math.min(stepC, seenStepC);
    }
    // A coarse thermometer without noise shows its step only from one second to the next.
    // A second in which it steps has a mean between the steps and shows nothing.
    double moved = Math.abs(temperatureC - lastC);
    repeats += moved == 0 ? 1 : 0;
    // A lone reading lies on a step only if such readings are known to repeat themselves.
    boolean onAStep = Double.isNaN(sdC) ? repeats >= REPEATS : sdC == 0;
    if (onAStep && moved > 1e-4) {
      stepC = Math.min(stepC, moved);
    }
    lastC = onAStep || Double.isNaN(sdC) ? temperatureC : Double.NaN;
    levelC = onAStep ? temperatureC : levelC;
    if (!Double.isNaN(sdC)) {
      noiseC = Double.isNaN(noiseC) ? sdC : noiseC + (sdC - noiseC) / 60;
    }
  }

  /** The step where the noise does not carry the readings over it, else 0, degC. */
  double blindC() {
    boolean known = stepC < Double.POSITIVE_INFINITY;
    return known && !(noiseC > 0.3 * stepC) ? stepC : 0;
  }

  /**
   * By how much the mean of many readings may be off because of the step: half of it without noise;
   * with noise of standard deviation s at most (q / pi) exp(-2 pi^2 s^2 / q^2), the first term of
   * the sawtooth's Fourier series (B. Widrow and I. Kollar, Quantization Noise, 2008, 4).
   */
  double hiddenLevelC() {
    if (stepC == Double.POSITIVE_INFINITY) {
      return 0;
    }
    double spread = Double.isNaN(noiseC) ? 0 : noiseC / stepC;
    double noise = Math.sqrt(Math.max(0, spread * spread - 1.0 / 12));
    double firstTerm = Math.exp(-2 * Math.pow(Math.PI * noise, 2)) / Math.PI;
    return stepC * (noise < SMALL_NOISE ? 0.5 : firstTerm);
  }

  /** A value on one of its steps; NaN before the first. */
  double levelC() {
    return levelC;
  }

  /** Whether a minute's slope is more step than slope. */
  boolean hidesMinutes() {
    return blindC() >= MINUTE_C;
  }

  boolean coarse() {
    return blindC() >= COARSE_C;
  }
}
