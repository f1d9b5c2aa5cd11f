package soakbench.drift.curve;

/**
 * A bias curve as evenly spaced values between which one goes straight.
 *
 * @param lowC temperature of the first, degC
 * @param stepC between two, degC
 * @param biasDps values as single-precision numbers, deg/s
 * @param worstErrorDps greatest difference to the curve between the first and the last, deg/s
 */
public record LookUpTable(double lowC, double stepC, float[] biasDps, double worstErrorDps) {
  /** A cubic between two values is farthest off near their middle: this many places find it. */
  private static final int LOOKS = 32;

  /**
   * Makes a table over the covered range.
   *
   * @param referenceC the coefficients are about this temperature, degC
   * @param rangeC lowest and highest temperature covered, degC
   * @param coefficients ascending powers; none for zeros
   * @param points at least 2
   */
  public static LookUpTable of(
      double referenceC, double[] rangeC, double[] coefficients, int points) {
    double low = rangeC[0];
    double step = (rangeC[1] - low) / (points - 1);
    float[] values = new float[points];
    for (int i = 0; i < points; i++) {
      values[i] = (float) bias(coefficients, low - referenceC + i * step);
    }
    double worst = 0;
    for (int i = 0; i + 1 < points; i++) {
      for (int k = 0; k <= LOOKS; k++) {
        double part = k / (double) LOOKS;
        double straight = values[i] + part * ((double) values[i + 1] - values[i]);
        double off = straight - bias(coefficients, low - referenceC + (i + part) * step);
        worst = Math.max(worst, Math.abs(off));
      }
    }
    return new LookUpTable(low, step, values, worst);
  }

  private static double bias(double[] coefficients, double u) {
    double sum = 0;
    for (int k = coefficients.length - 1; k >= 0; k--) {
      sum = sum * u + coefficients[k];
    }
    return sum;
  }
}
