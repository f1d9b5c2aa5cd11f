package soakbench.readiness;

import soakbench.drift.still.BiasModel;
import soakbench.numerics.Measured;

/** The axes' coefficients by temperature, worked out once for the many paths of a forecast. */
final class SlopeTable {
  private static final double STEP_C = 0.5;
  private static final double REACH_C = 12;

  private final double lowC;
  private final double[][] mean = new double[3][];
  private final double[][] se = new double[3][];

  /**
   * @param models of the three axes
   * @param aboutC the table reaches this far about it; beyond, its ends go on
   */
  SlopeTable(BiasModel[] models, double aboutC) {
    lowC = aboutC - REACH_C;
    int n = (int) (2 * REACH_C / STEP_C) + 1;
    for (int axis = 0; axis < 3; axis++) {
      mean[axis] = new double[n];
      se[axis] = new double[n];
      for (int i = 0; i < n; i++) {
        Measured slope = models[axis].slopeAt(lowC + i * STEP_C);
        mean[axis][i] = slope.value();
        se[axis][i] = slope.se();
      }
    }
  }

  /**
   * The steepest axis' coefficient, deg/s per degC, not negative, if each is {@code z} standard
   * errors off.
   */
  double steepest(double temperatureC, double z) {
    int i = (int) Math.round((temperatureC - lowC) / STEP_C);
    i = Math.max(0, Math.min(mean[0].length - 1, i));
    double most = 0;
    for (int axis = 0; axis < 3; axis++) {
      most = Math.max(most, Math.abs(mean[axis][i] + z * se[axis][i]));
    }
    return most;
  }
}
