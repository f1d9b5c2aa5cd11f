package soakbench.thermal;

/**
 * How the surroundings stray from their constant part: smoothly, and bound to it, as a critically
 * damped oscillator stirred by noise (the Matern covariance of order 3/2; Hartikainen and Sarkka,
 * IEEE MLSP 2010). Over one step, for a standard deviation of 1.
 *
 * @param move transition of (value, slope): two by two
 * @param stir covariance of what is added to them: two by two
 */
public record RoomSwing(double[][] move, double[][] stir) {
  /**
   * A room's heating takes some five to ten minutes from warm to cold (common practice, no source).
   */
  private static final double RATE = 1 / 250.0;

  /** Standard deviation of the slope beside that of the value, 1/s. */
  static double slopeSd() {
    return RATE;
  }

  public static RoomSwing over(double seconds) {
    double x = RATE * seconds;
    double e = Math.exp(-x);
    double[][] f = {{e * (1 + x), e * seconds}, {-e * RATE * x, e * (1 - x)}};
    double p = RATE * RATE;
    double[][] q = new double[2][2];
    for (int i = 0; i < 2; i++) {
      for (int j = 0; j < 2; j++) {
        double at = i == j ? i == 0 ? 1 : p : 0;
        q[i][j] = at - f[i][0] * f[j][0] - p * f[i][1] * f[j][1];
      }
    }
    return new RoomSwing(f, q);
  }
}
