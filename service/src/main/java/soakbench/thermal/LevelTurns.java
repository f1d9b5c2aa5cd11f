package soakbench.thermal;

import java.io.Serializable;

/**
 * Notices that a coarse thermometer went back over the step it had come over: the temperature
 * turned in between, which no one model of warming does. Not thread-safe.
 */
final class LevelTurns implements Serializable {
  private static final double PURE = 0.02;

  private double levelC = Double.NaN;
  private double direction;

  /**
   * Takes a block.
   *
   * @param onLevelC a value that lies on a step, degC
   * @return whether it is the first on a step again that it had left the other way
   */
  boolean turned(double meanC, double stepC, double onLevelC) {
    double steps = (meanC - onLevelC) / stepC;
    double nearest = Math.rint(steps);
    if (!(Math.abs(steps - nearest) < PURE)) {
      return false;
    }
    double now = onLevelC + nearest * stepC;
    double moved = Double.isNaN(levelC) ? 0 : now - levelC;
    levelC = now;
    if (Math.abs(moved) < stepC / 2) {
      return false;
    }
    boolean back = moved * direction < 0;
    direction = Math.signum(moved);
    return back;
  }
}
