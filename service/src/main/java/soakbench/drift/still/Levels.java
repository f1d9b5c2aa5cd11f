package soakbench.drift.still;

/**
 * Recent levels of three channels while still, and whether a new one steps off them. Not
 * thread-safe.
 */
final class Levels {
  private static final int KEEP = 10;

  private final double[][] recent = new double[KEEP][];
  private int seen;

  void add(double[] level) {
    if (!Double.isNaN(level[0])) {
      recent[seen % KEEP] = level;
      seen++;
    }
  }

  void restart(double[] level) {
    seen = 0;
    add(level);
  }

  /** Whether any channel is off the mean of the recent levels by more than its tolerance. */
  boolean stepped(double[] level, double[] tolerance) {
    int n = Math.min(seen, KEEP);
    if (n == 0 || Double.isNaN(level[0])) {
      return false;
    }
    for (int i = 0; i < 3; i++) {
      double mean = 0;
      for (int k = 0; k < n; k++) {
        mean += recent[k][i] / n;
      }
      if (Math.abs(level[i] - mean) > tolerance[i]) {
        return true;
      }
    }
    return false;
  }
}
