package soakbench.lots;

import soakbench.model.Estimate;

/**
 * One axis's bias curve of one soak, at any temperature.
 *
 * @param referenceC powers are taken about this temperature, degC
 * @param coefficients ascending powers of (T - reference), deg/s per degC^k; null without a curve
 * @param covariance of them; null without a curve
 * @param quantile half a 95 % interval in standard errors
 * @param reason why there is no curve; null where there is one
 */
record AxisCurve(
    double referenceC,
    double[] coefficients,
    double[][] covariance,
    double quantile,
    String reason) {
  private static final double NORMAL_95 = 1.959964;

  static AxisCurve of(AxisFigures axis, Double operatingC) {
    Estimate slope = axis.tempcoDpsPerC();
    if (axis.coefficients() == null || operatingC == null) {
      return new AxisCurve(Double.NaN, null, null, NORMAL_95, slope.reason());
    }
    boolean spread = slope.known() && slope.se() != null && slope.se() > 0;
    double quantile = spread ? (slope.high() - slope.value()) / slope.se() : NORMAL_95;
    return new AxisCurve(operatingC, axis.coefficients(), axis.covariance(), quantile, null);
  }

  boolean known() {
    return reason == null;
  }

  /** Bias at a temperature, deg/s. */
  Estimate biasDps(double temperatureC) {
    return estimate(powers(temperatureC, 0));
  }

  /** Slope at a temperature, deg/s per degC. */
  Estimate tempcoDpsPerC(double temperatureC) {
    return estimate(powers(temperatureC, 1));
  }

  /** Weights of the coefficients in the curve, or in its first derivative, at a temperature. */
  private double[] powers(double temperatureC, int derivative) {
    double[] g = new double[known() ? coefficients.length : 0];
    for (int k = derivative; k < g.length; k++) {
      double power = Math.pow(temperatureC - referenceC, k - derivative);
      g[k] = derivative == 0 ? power : k * power;
    }
    return g;
  }

  private Estimate estimate(double[] g) {
    if (!known()) {
      return Estimate.unknown(reason);
    }
    double value = 0;
    double variance = 0;
    for (int i = 0; i < g.length; i++) {
      value += g[i] * coefficients[i];
      for (int j = 0; j < g.length; j++) {
        variance += g[i] * covariance[i][j] * g[j];
      }
    }
    return Estimate.of(value, Math.sqrt(Math.max(0, variance)), quantile);
  }
}
