package soakbench.thermal;

import java.io.Serializable;

/**
 * Notices that the temperature no longer follows its model: a two-sided cumulative sum of one-block
 * forecast errors (Page, Biometrika 41, 1954). Not thread-safe.
 */
final class BreakDetector implements Serializable {
  /** A block mean is not believed to be better than this, degC. */
  static final double LEAST_SD_C = 0.01;

  private static final double ALLOWANCE = 0.75;
  private static final double ALARM = 8;

  private double up;
  private double down;
  private int upLength;
  private int downLength;

  /**
   * Takes the newest forecast error.
   *
   * @param error observed minus forecast, degC
   * @param scale standard deviation of a block about the model, degC
   * @param blind error that the thermometer's step explains, degC
   * @return 0, or how many blocks ago (1 = the newest) the break began
   */
  int accept(double error, double scale, double blind) {
    double z = Math.signum(error) * Math.max(0, Math.abs(error) - blind) / scale;
    up = Math.max(0, up + z - ALLOWANCE);
    upLength = up == 0 ? 0 : upLength + 1;
    down = Math.max(0, down - z - ALLOWANCE);
    downLength = down == 0 ? 0 : downLength + 1;
    int back = up > ALARM ? upLength : down > ALARM ? downLength : 0;
    if (back > 0) {
      up = 0;
      down = 0;
      upLength = 0;
      downLength = 0;
    }
    return back;
  }
}
