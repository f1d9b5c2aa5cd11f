package soakbench.drift;

import java.util.List;
import soakbench.model.Estimate;

/**
 * Bias against temperature of one soak.
 *
 * @param referenceC powers are taken about this temperature, degC; null without a curve
 * @param operatingC temperature at which the coefficient is given, degC: the use temperature, or
 *     the end of the covered range that is nearest to it
 * @param rangeC lowest and highest temperature covered, degC
 * @param axes x, y, z
 * @param reason why there is no curve; null where there is one
 */
public record BiasCurve(
    Double referenceC, Double operatingC, double[] rangeC, List<Axis> axes, String reason) {

  /**
   * One axis.
   *
   * @param axis x, y or z
   * @param order highest power
   * @param coefficients ascending powers of (T - reference), deg/s per degC^k, the first in the
   *     newest pose
   * @param covariance of the coefficients
   * @param tempcoDpsPerC slope at the operating temperature, deg/s per degC
   * @param spanDps greatest minus least bias of the curve over the covered range, deg/s
   * @param hysteresisDps difference between warming and cooling, deg/s
   * @param lagDpsPerCPerS term in the temperature's rate
   * @param residualSdDps standard deviation of the blocks about the curve, deg/s
   */
  public record Axis(
      String axis,
      int order,
      double[] coefficients,
      double[][] covariance,
      Estimate tempcoDpsPerC,
      Estimate spanDps,
      Estimate hysteresisDps,
      Estimate lagDpsPerCPerS,
      double residualSdDps) {}

  public static BiasCurve unknown(String reason) {
    return new BiasCurve(null, null, null, List.of(), reason);
  }
}
