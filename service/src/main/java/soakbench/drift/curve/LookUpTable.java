package soakbench.drift.curve;

/**
 * A bias curve as evenly spaced values between which one goes straight.
 *
 * @param lowC temperature of the first, degC
 * @param stepC between two, degC
 * @param biasDps values as single-precision numbers, deg/s
 * @param standardErrorDps standard error of the curve at each, likewise, deg/s
 * @param worstErrorDps greatest difference to the curve between the first and the last, deg/s
 */
public record LookUpTable(
    double lowC, double stepC, float[] biasDps, float[] standardErrorDps, double worstErrorDps) {
  /** A cubic between two values is farthest off near their middle: this many places find it. */
  private static final int LOOKS = 32;

  /**
   * Makes a table over the covered range.
   *
   * @param referenceC the powers are about this temperature, degC
   * @param rangeC lowest and highest temperature covered, degC
   * @param powers the curve; without coefficients the table holds zeros
   * @param points at least 2
   */
  public static LookUpTable of(
      double referenceC, double[] rangeC, BiasCurve.Powers powers, int points) {
    double[] coefficients = powers.coefficients();
    double low = rangeC[0];
    double step = (rangeC[1] - low) / (points - 1);
    float[] values = new float[points];
    float[] errors = new float[points];
    for (int i = 0; i < points; i++) {
      double u = low - referenceC + i * step;
      values[i] = (float) bias(coefficients, u);
      errors[i] = (float) Math.sqrt(powers.variance(powers.weights(u, 0)));
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
    return new LookUpTable(low, step, values, errors, worst);
  }

  private static double bias(double[] coefficients, double u) {
    double sum = 0;
    for (int k = coefficients.length - 1; k >= 0; k--) {
      sum = sum * u + coefficients[k];
    }
    return sum;
  }
}
