package soakbench.lots;

import java.util.Objects;
import soakbench.drift.curve.BiasCurve;
import soakbench.drift.curve.RepeatedErrors;
import soakbench.model.Estimate;

/**
 * One axis's figures from one soak. Its parts are not grouped: it is stored by their names, and
 * what older releases stored must still be read.
 *
 * @param axis x, y or z
 * @param biasDps bias at the operating temperature in the newest pose, deg/s
 * @param tempcoDpsPerC slope there, deg/s per degC
 * @param spanDps greatest minus least bias over the covered range, deg/s
 * @param settlingDps what is added at power-on and dies away within minutes, deg/s, where the soak
 *     before shows it again
 * @param residualSdDps standard deviation of the half-minutes about the curve, deg/s; null without
 * @param angleRandomWalkDegPerSqrtH N
 * @param biasInstabilityDegPerH B
 * @param rateRandomWalkDpsPerSqrtS K
 * @param coefficients of the bias curve, ascending powers of (T - operating temperature), deg/s per
 *     degC^k, with a last one, zero, for the power left out; null without a curve
 * @param covariance of the coefficients; null without a curve
 * @param limitsSe half a 95 % interval of what is read off the curve, in standard errors; null
 *     without a curve
 * @param repeated what of the curve's errors is the same in every soak; null without a curve
 */
public record AxisFigures(
    String axis,
    Estimate biasDps,
    Estimate tempcoDpsPerC,
    Estimate spanDps,
    Estimate settlingDps,
    Double residualSdDps,
    Estimate angleRandomWalkDegPerSqrtH,
    Estimate biasInstabilityDegPerH,
    Estimate rateRandomWalkDpsPerSqrtS,
    double[] coefficients,
    double[][] covariance,
    Double limitsSe,
    RepeatedErrors repeated) {

  public AxisFigures {
    Objects.requireNonNull(axis, "axis");
    Objects.requireNonNull(biasDps, "biasDps");
    Objects.requireNonNull(tempcoDpsPerC, "tempcoDpsPerC");
    Objects.requireNonNull(spanDps, "spanDps");
    Objects.requireNonNull(settlingDps, "settlingDps");
    Objects.requireNonNull(angleRandomWalkDegPerSqrtH, "angleRandomWalkDegPerSqrtH");
    Objects.requireNonNull(biasInstabilityDegPerH, "biasInstabilityDegPerH");
    Objects.requireNonNull(rateRandomWalkDpsPerSqrtS, "rateRandomWalkDpsPerSqrtS");
  }

  /** The bias curve as it was fitted; null without one. */
  BiasCurve.Powers powers() {
    return coefficients == null
        ? null
        : new BiasCurve.Powers(
            coefficients.length - 2, coefficients, covariance, limitsSe, repeated);
  }
}
