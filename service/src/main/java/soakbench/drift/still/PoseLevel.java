package soakbench.drift.still;

import java.io.Serializable;

/**
 * Gravity's direction in the present pose: a mean that follows so slowly that a turn too slow for
 * the gyro has moved on before the mean has, and still follows an accelerometer that warms. Not
 * thread-safe.
 */
final class PoseLevel implements Serializable {
  private static final double FOLLOW_S = 120;

  private double[] meanG;
  private int seconds;

  /** Takes a still second's specific force, g; nothing where it has none. */
  void add(double[] accelG) {
    if (Double.isNaN(accelG[0])) {
      return;
    }
    seconds++;
    double gain = Math.max(1.0 / seconds, 1 / FOLLOW_S);
    meanG = meanG == null ? accelG.clone() : meanG;
    for (int i = 0; i < 3; i++) {
      meanG[i] += gain * (accelG[i] - meanG[i]);
    }
  }

  void restart(double[] accelG) {
    meanG = null;
    seconds = 0;
    add(accelG);
  }

  /** Whether any axis is off by more than its tolerance, g. */
  boolean left(double[] accelG, double[] toleranceG) {
    if (meanG == null || Double.isNaN(accelG[0])) {
      return false;
    }
    for (int i = 0; i < 3; i++) {
      if (Math.abs(accelG[i] - meanG[i]) > toleranceG[i]) {
        return true;
      }
    }
    return false;
  }
}
