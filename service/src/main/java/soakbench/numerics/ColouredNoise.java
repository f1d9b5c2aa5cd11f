package soakbench.numerics;

/**
 * Covariance of block means of a rate whose noise is white plus flicker.
 *
 * <p>White: N^2 / w for a block of w seconds, N in the Allan convention (deviation at 1 s equals
 * N). Flicker: density B^2 / (2 pi f) over positive and negative frequencies, so B^2 / (pi f) over
 * positive ones alone, whose Allan floor is 0.664 B (IEEE Std 952's reading), written as a sum of
 * first-order Markov processes whose time constants stand a factor of four apart, each with
 * variance B^2 ln(4) / pi; block means of a Markov process have a closed form. Processes slower
 * than the record only move its level, which the offsets take up.
 */
public final class ColouredNoise {
  private static final double RATIO = 4;
  private static final double FASTEST_S = 2;

  private ColouredNoise() {}

  /**
   * Covariance of block means.
   *
   * @param midS middle of each block, s, ascending
   * @param widthS width of each block, s
   * @param whiteN N, in units of the rate times sqrt(s)
   * @param flickerB B, in units of the rate
   * @return symmetric matrix, one row for each block
   */
  public static double[][] covariance(
      double[] midS, double[] widthS, double whiteN, double flickerB) {
    int n = midS.length;
    double[][] v = new double[n][n];
    double slowest = 4 * Math.max(60, n == 0 ? 0 : midS[n - 1] - midS[0]);
    double variance = flickerB * flickerB * Math.log(RATIO) / Math.PI;
    for (double tau = FASTEST_S; flickerB > 0 && tau <= slowest * RATIO; tau *= RATIO) {
      addMarkov(v, midS, widthS, tau, variance);
    }
    for (int i = 0; i < n; i++) {
      v[i][i] += whiteN * whiteN / widthS[i];
    }
    return v;
  }

  private static void addMarkov(
      double[][] v, double[] midS, double[] widthS, double tau, double variance) {
    int n = midS.length;
    // Hyperbolic sines of the half widths alone overflow for blocks of half an hour, so their
    // growth
    // is kept in the exponent, where the blocks' distance outweighs it.
    double[] reach = new double[n];
    double[] half = new double[n];
    for (int i = 0; i < n; i++) {
      double h = widthS[i] / (2 * tau);
      half[i] = h;
      reach[i] = -Math.expm1(-2 * h) / (2 * h);
      v[i][i] += variance * (2 * h - 1 + Math.exp(-2 * h)) / (2 * h * h);
    }
    for (int i = 0; i < n; i++) {
      for (int j = 0; j < i; j++) {
        double apart = (midS[i] - midS[j]) / tau - half[i] - half[j];
        double c = variance * reach[i] * reach[j] * Math.exp(-apart);
        v[i][j] += c;
        v[j][i] += c;
      }
    }
  }
}
