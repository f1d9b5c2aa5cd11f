package soakbench.lots;

import soakbench.model.Estimate;

/**
 * One axis's figures from all soaks of a unit.
 *
 * @param axis x, y or z
 * @param bias what its bias curves come to
 * @param turnOnDps repeatability from one power-up to the next, deg/s (one standard deviation)
 * @param noise of its stream
 */
public record AxisSummary(String axis, Bias bias, Estimate turnOnDps, Noise noise) {

  /**
   * Bias against temperature.
   *
   * @param biasDps bias at the operating temperature, deg/s
   * @param tempcoDpsPerC slope there, deg/s per degC
   * @param spanDps greatest minus least bias over the range that the newest soak covered, deg/s
   * @param settlingDps what is added at power-on and dies away within minutes, deg/s; of the newest
   *     soak that shows it again
   * @param residualSdDps of the newest soak with a curve, deg/s; null without
   */
  public record Bias(
      Estimate biasDps,
      Estimate tempcoDpsPerC,
      Estimate spanDps,
      Estimate settlingDps,
      Double residualSdDps) {}

  /**
   * Noise of a stream.
   *
   * @param angleRandomWalkDegPerSqrtH N
   * @param biasInstabilityDegPerH B
   * @param rateRandomWalkDpsPerSqrtS K
   */
  public record Noise(
      Estimate angleRandomWalkDegPerSqrtH,
      Estimate biasInstabilityDegPerH,
      Estimate rateRandomWalkDpsPerSqrtS) {}
}
