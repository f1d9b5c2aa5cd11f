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
 * @param fromUs first instant that the fit used, or null
 * @param toUs last instant that the fit used, or null
 * @param residualSdC standard deviation of 10 s means about the model, degC, or null
 * @param breaksUs instants at which the surroundings changed
 * @param reason why there is no curve; null where there is one
 */
public record WarmUpCurve(
    Estimate plateauC,
    Estimate startC,
    List<Estimate> timeConstantsS,
    Long fromUs,
    Long toUs,
    Double residualSdC,
    List<Long> breaksUs,
    String reason) {

  /** No curve, and why. */
  public static WarmUpCurve unknown(String reason, List<Long> breaksUs) {
    Estimate none = Estimate.unknown(reason);
    return new WarmUpCurve(none, none, List.of(), null, null, null, breaksUs, reason);
  }
}
