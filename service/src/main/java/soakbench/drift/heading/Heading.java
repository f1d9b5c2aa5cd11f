package soakbench.drift.heading;

import java.util.List;
import soakbench.model.Estimate;

/**
 * What a calibration at one temperature costs in use at another. Intervals are 95 % ones.
 *
 * @param asked which temperatures it is about
 * @param degPerMin heading error rate of the axis that moves most, deg/min; over a profile its
 *     mean, of the axis that goes farthest
 * @param minutesTo5Deg minutes until that axis is five degrees off
 * @param axes rates of x, y, z, deg/min
 * @param earthDegPerMin the Earth's rotation: what a still unit can't tell from a bias, deg/min
 * @param note what to know when using it, or null
 */
public record Heading(
    Asked asked,
    Estimate degPerMin,
    Estimate minutesTo5Deg,
    List<Axis> axes,
    double earthDegPerMin,
    String note) {

  /**
   * Which temperatures it is about.
   *
   * @param calibratedC temperature of the calibration, degC, or null
   * @param useC temperature in use, degC; null where a profile of use was given
   * @param profile the soak whose temperatures were taken for those in use, or null
   */
  public record Asked(Double calibratedC, Double useC, String profile) {}

  /** One axis' rate, deg/min. */
  public record Axis(String axis, Estimate degPerMin) {}
}
