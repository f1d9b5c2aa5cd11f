package soakbench.numerics;

/**
 * Autocovariance of block means of a rate whose noise is white plus flicker, as it is and after a
 * first-order high-pass: what is left when a low-pass of the rate is taken off it. White noise then
 * loses a Markov process of the filter's time constant; a Markov process becomes the difference of
 * two by partial fractions. Flicker is the sum of Markov processes of {@link ColouredNoise}.
 */
public final class HighPassedNoise {
  private static final double RATIO = 4;
  private static final double FASTEST_S = 2;
  private static final double SLOWEST_S = 8192;

  private HighPassedNoise() {}

  /**
   * Autocovariances of block means that follow each other without a gap.
   *
   * @param count how many lags, from 0
   * @param blockS length of a block, s
   * @param whiteN N, in units of the rate times sqrt(s)
   * @param flickerB B, in units of the rate
   * @param lowPassS time constant of the low-pass that is taken off, s; infinite for none; no power
   *     of two, where the partial fractions fail
   * @return one covariance for each lag
   */
  public static double[] autocovariance(
      int count, double blockS, double whiteN, double flickerB, double lowPassS) {
    double[] out = new double[count];
    boolean highPassed = !Double.isInfinite(lowPassS);
    out[0] = whiteN * whiteN / blockS;
    if (highPassed) {
      addMarkov(out, blockS, lowPassS, -whiteN * whiteN / (2 * lowPassS));
    }
    double variance = flickerB * flickerB * Math.log(RATIO) / Math.PI;
    for (double tau = FASTEST_S; tau <= SLOWEST_S; tau *= RATIO) {
      if (highPassed) {
        double share = lowPassS * lowPassS / (lowPassS * lowPassS - tau * tau);
        addMarkov(out, blockS, tau, variance * share);
        addMarkov(out, blockS, lowPassS, -variance * share * tau / lowPassS);
      } else {
        addMarkov(out, blockS, tau, variance);
      }
    }
    return out;
  }

  private static void addMarkov(double[] out, double blockS, double tau, double variance) {
    double h = blockS / tau;
    out[0] += variance * 2 * (h + Math.expm1(-h)) / (h * h);
    double reach = -Math.expm1(-h) / h;
    for (int lag = 1; lag < out.length; lag++) {
      out[lag] += variance * reach * reach * Math.exp(-(lag - 1) * h);
    }
  }
}
