package soakbench.thermal;

import java.util.List;
import soakbench.model.Estimate;

/**
 * Temperature against time as a model: plateau, start, time constants. Times are microseconds since
 * 1970.
 *
 * @param plateauC temperature that it is heading for, degC
 * @param startC temperature of the model at the soak's first sample, degC
 * @param timeConstantsS fastest first, s
 * @param priorOnly whether the time constant is little more than what is believed of any body: the
 *     soak itself does not show it
 * @param basis what the fit rests on; all null without a curve
 * @param course the model over time; empty where the soak shows no time constant of its own
 * @param breaksUs instants at which the surroundings changed
 * @param reason why there is no curve; null where there is one
 */
public record WarmUpCurve(
    Estimate plateauC,
    Estimate startC,
    List<Estimate> timeConstantsS,
    boolean priorOnly,
    Basis basis,
    List<Point> course,
    List<Long> breaksUs,
    String reason) {

  /**
   * What the fit rests on.
   *
   * @param fromUs first instant that it used
   * @param toUs last instant that it used
   * @param residualSdC standard deviation of 10 s means about the model, degC
   */
  public record Basis(Long fromUs, Long toUs, Double residualSdC) {}

  /**
   * The model at one instant.
   *
   * @param timeUs the instant
   * @param temperatureC degC
   * @param confidenceLowC lower 95 % limit of the model, degC
   * @param confidenceHighC upper one
   * @param forecast whether it is later than what was used
   */
  public record Point(
      long timeUs,
      double temperatureC,
      double confidenceLowC,
      double confidenceHighC,
      boolean forecast) {}

  /** The same with another plateau. */
  WarmUpCurve withPlateau(Estimate otherC) {
    return new WarmUpCurve(
        otherC, startC, timeConstantsS, priorOnly, basis, course, breaksUs, reason);
  }

  /** No curve, and why. */
  public static WarmUpCurve unknown(String reason, List<Long> breaksUs) {
    Estimate none = Estimate.unknown(reason);
    Basis basis = new Basis(null, null, null);
    return new WarmUpCurve(none, none, List.of(), false, basis, List.of(), breaksUs, reason);
  }
}
