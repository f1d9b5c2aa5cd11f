package soakbench.thermal;

import java.util.ArrayDeque;
import java.util.Deque;

/**
 * How far the temperature strays from what was forecast of it three minutes before: what the
 * surroundings do besides being constant, seen in held-out readings because the fit takes a slow
 * swing of theirs for its own. Not thread-safe.
 */
final class Wander {
  private static final double AHEAD_S = 180;
  private static final double MEMORY = 40;
  private static final int LEAST = 6;

  private final Deque<double[]> pending = new ArrayDeque<>();
  private double meanSquare;
  private int seen;

  /** Remembers what is forecast at {@code tS} for {@link #AHEAD_S} later. */
  void forecast(double tS, double expectedC) {
    pending.addLast(new double[] {tS + AHEAD_S, expectedC});
  }

  static double aheadS() {
    return AHEAD_S;
  }

  /** Takes the newest block. */
  void accept(double tS, double temperatureC) {
    while (!pending.isEmpty() && pending.peekFirst()[0] <= tS) {
      double[] due = pending.pollFirst();
      if (tS - due[0] < WarmUpTracker.BLOCK_S) {
        double error = temperatureC - due[1];
        seen++;
        meanSquare += (error * error - meanSquare) / Math.min(seen, MEMORY);
      }
    }
  }

  /** Typical stray, degC/min; 0 while too few forecasts have come due. */
  double cPerMin() {
    return seen < LEAST ? 0 : Math.sqrt(meanSquare) / (AHEAD_S / 60);
  }
}
