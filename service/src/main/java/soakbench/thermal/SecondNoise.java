package soakbench.thermal;

/**
 * How much a second's mean temperature is in error, from how much neighbours differ beyond a
 * straight line (after von Neumann, Ann. Math. Stat. 12, 1941). Not thread-safe.
 */
final class SecondNoise {
  private static final double MEMORY_S = 300;

  private double before = Double.NaN;
  private double beforeThat = Double.NaN;
  private double meanSquare;
  private int seen;

  void accept(double temperatureC) {
    double bend = temperatureC - 2 * before + beforeThat;
    if (!Double.isNaN(bend)) {
      seen++;
      meanSquare += (bend * bend / 6 - meanSquare) / Math.min(seen, MEMORY_S);
    }
    beforeThat = before;
    before = temperatureC;
  }

  double sdC() {
    return Math.sqrt(meanSquare);
  }
}
