package soakbench.drift.curve;

import java.util.List;

/**
 * A soak's bias curve, as reported and as fitted.
 *
 * @param curve for people and programs
 * @param fits x, y, z, null for an axis without a curve; empty where there is no curve at all
 */
public record BiasAnalysis(BiasCurve curve, List<CurveFit> fits) {

  /** No curve, and why. */
  public static BiasAnalysis unknown(String reason) {
    return new BiasAnalysis(BiasCurve.unknown(reason), List.of());
  }
}
