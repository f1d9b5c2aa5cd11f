package soakbench.thermal;

/**
 * Finds the thermometer's step from its readings, and whether its own noise carries it over the
 * steps. Not thread-safe.
 */
final class ThermometerStep {
  private double stepC = Double.POSITIVE_INFINITY;
  private double lastC = Double.NaN;
  private double noiseC = Double.NaN;

  void accept(double temperatureC, double sdC, double seenStepC) {
    if (seenStepC > 1e-4) {
      stepC = Math.min(stepC, seenStepC);
    }
    // A coarse thermometer without noise shows its step only from one second to the next.
    // A second in which it steps has a mean between the steps and tells nothing.
    boolean onAStep = !(sdC > 0);
    double moved = Math.abs(temperatureC - lastC);
    if (onAStep && moved > 1e-4) {
      stepC = Math.min(stepC, moved);
    }
    lastC = onAStep ? temperatureC : Double.NaN;
    if (!Double.isNaN(sdC)) {
      noiseC = Double.isNaN(noiseC) ? sdC : noiseC + (sdC - noiseC) / 60;
    }
  }

  /** The step where the noise does not carry the readings over it, else 0, degC. */
  double blindC() {
    boolean known = stepC < Double.POSITIVE_INFINITY;
    return known && !(noiseC > 0.3 * stepC) ? stepC : 0;
  }

  boolean coarse() {
    return blindC() >= 0.03;
  }
}
