package soakbench.drift.noise;

import java.util.List;
import soakbench.model.Estimate;

/**
 * Noise of the printed stream while lying still.
 *
 * @param sampleRateHz median readings a second, or null
 * @param axes x, y, z
 * @param reason why there are no figures; null where there are
 */
public record Noise(Double sampleRateHz, List<Axis> axes, String reason) {

  /**
   * One axis.
   *
   * @param axis x, y or z
   * @param deviations what the figures are read off
   * @param angleRandomWalkDegPerSqrtH N
   * @param biasInstabilityDegPerH B
   * @param rateRandomWalkDpsPerSqrtS K
   * @param note what is to be known of how they were read; null where nothing is
   */
  public record Axis(
      String axis,
      Deviations deviations,
      Estimate angleRandomWalkDegPerSqrtH,
      Estimate biasInstabilityDegPerH,
      Estimate rateRandomWalkDpsPerSqrtS,
      String note) {}

  /**
   * An axis's Allan deviations: one entry for each averaging time.
   *
   * @param tauS averaging times, s, ascending
   * @param adevDps overlapping Allan deviations, deg/s
   * @param adevLowDps their lower 95 % limits
   * @param adevHighDps their upper 95 % limits
   */
  public record Deviations(
      double[] tauS, double[] adevDps, double[] adevLowDps, double[] adevHighDps) {}

  public static Noise unknown(String reason) {
    return new Noise(null, List.of(), reason);
  }
}
