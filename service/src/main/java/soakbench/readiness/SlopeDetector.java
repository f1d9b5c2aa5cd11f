package soakbench.readiness;

/**
 * The direct look: slope of the bias itself over the last minutes in one pose. It can't show
 * settling sooner than the chain rule, but it sees drift that no temperature explains, so it may
 * refuse. Not thread-safe.
 */
final class SlopeDetector {
  static final int LEAST_S = 180;
  static final int MOST_S = 300;

  private final double[] timeS = new double[MOST_S];
  private final double[][] biasDps = new double[MOST_S][];
  private int segment = -1;
  private int seen;

  void accept(double tS, double[] bias, int newSegment) {
    if (newSegment != segment) {
      segment = newSegment;
      seen = 0;
    }
    timeS[seen % MOST_S] = tS;
    biasDps[seen % MOST_S] = bias;
    seen++;
  }

  /**
   * Change of one axis over {@code aheadS} if the slope goes on; null before {@link #LEAST_S} of
   * still seconds.
   *
   * @param white N of the axis, deg/s at 1 s
   * @param flicker B of the axis, deg/s
   * @param quantile of the normal for the one-sided test
   */
  TostInterval change(int axis, double aheadS, double white, double flicker, double quantile) {
    int n = Math.min(seen, MOST_S);
    double span = n < 2 ? 0 : timeS[(seen - 1) % MOST_S] - timeS[(seen - n) % MOST_S];
    if (n < LEAST_S * 0.8 || span < LEAST_S) {
      return null;
    }
    double meanT = 0;
    double meanB = 0;
    for (int i = 0; i < n; i++) {
      meanT += timeS[i] / n;
      meanB += biasDps[i][axis] / n;
    }
    double stt = 0;
    double stb = 0;
    for (int i = 0; i < n; i++) {
      stt += (timeS[i] - meanT) * (timeS[i] - meanT);
      stb += (timeS[i] - meanT) * (biasDps[i][axis] - meanB);
    }
    double se =
        Math.sqrt(12 * white * white / Math.pow(span, 3) + Math.pow(1.7 * flicker / span, 2));
    return new TostInterval(aheadS * stb / stt, quantile * aheadS * se);
  }
}
