package soakbench.readiness.estimator;

import java.io.Serializable;
import java.util.List;
import soakbench.model.Estimate;
import soakbench.numerics.RelaxationMixture;

/**
 * What the estimator says after a second.
 *
 * @param tS the second's end, s since the soak began
 * @param temperature where its temperature is and where it goes; null before the first block
 * @param shifts where each axis' bias goes; null before the first block with rates
 * @param dwell how long all has held
 * @param expected when it will be ready; null where it is, or that can't be said
 */
public record Answer(
    double tS, Temperature temperature, Shifts shifts, Dwell dwell, Expected expected)
    implements Serializable {

  /**
   * The chip's temperature.
   *
   * @param nowC now, degC
   * @param rateCPerMin how fast it changes, degC/min
   * @param relaxation of the body towards where it levels off, degC, from the newest block on,
   *     without what the room's heating does
   * @param followedS for how long nothing unforeseen has happened to it, s
   */
  public record Temperature(
      double nowC, TostInterval rateCPerMin, RelaxationMixture relaxation, double followedS)
      implements Serializable {}

  /**
   * Where the axes' bias goes if it is left as it lies.
   *
   * @param eachDps over the longest horizon, deg/s, x y z, with 95 % limits
   * @param worstDps the one that reaches furthest over all axes and horizons, deg/s
   * @param worstAxis whose that is, 0 to 2
   * @param within whether all of them stay within the limit
   */
  public record Shifts(List<Estimate> eachDps, TostInterval worstDps, int worstAxis, boolean within)
      implements Serializable {}

  /**
   * How long all has held.
   *
   * @param settled whether band, rate and shift hold
   * @param heldS for how long, s
   * @param neededS for how long they must, s
   * @param ready whether it stands as ready
   */
  public record Dwell(boolean settled, double heldS, double neededS, boolean ready)
      implements Serializable {}

  /**
   * When the test will have passed for the dwell if it is left as it lies.
   *
   * @param fromS what the times count from, s since the soak began
   * @param expectedS by which it is as likely as not to be ready, s
   * @param earliestS 5 % point, s
   * @param latestS 95 % point, s; two hours where more than one in twenty never gets there
   */
  public record Expected(double fromS, double expectedS, double earliestS, double latestS)
      implements Serializable {}
}
