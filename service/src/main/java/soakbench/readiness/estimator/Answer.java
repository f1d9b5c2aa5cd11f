package soakbench.readiness.estimator;

import java.util.List;

/**
 * What the estimator says after a second.
 *
 * @param tS the second's end, s since the soak began
 * @param temperatureC the chip's temperature, degC; NaN before the first block
 * @param rateCPerMin how fast it changes, degC/min; null before the first block
 * @param shifts where each axis' bias goes
 * @param dwell how long all has held
 * @param expected when it will be; null where it is ready or that can't be said
 * @param whyNot why there is no figure or no time; null where there is
 */
public record Answer(
    double tS,
    double temperatureC,
    Tested rateCPerMin,
    Shifts shifts,
    Dwell dwell,
    Expected expected,
    String whyNot) {

  /**
   * Where the axes' bias goes if it is left as it lies.
   *
   * @param eachDps over the longest horizon, deg/s, x y z; empty before the first block
   * @param worstDps the one that reaches furthest over all axes and horizons, deg/s; null before
   *     the first block
   * @param worstAxis whose that is, 0 to 2
   */
  public record Shifts(List<Tested> eachDps, Tested worstDps, int worstAxis) {}

  /**
   * How long all has held.
   *
   * @param settled whether band, rate and shift hold
   * @param heldS for how long, s
   * @param neededS for how long they must, s
   * @param ready whether it stands as ready
   */
  public record Dwell(boolean settled, double heldS, double neededS, boolean ready) {}

  /**
   * When the test will have passed for the dwell if it is left as it lies.
   *
   * @param fromS what the times count from, s since the soak began
   * @param expectedS median, s
   * @param earliestS 5 % point, s
   * @param latestS 95 % point, s; infinite where more than one in twenty never gets there
   * @param never probability that it never gets there
   */
  public record Expected(
      double fromS, double expectedS, double earliestS, double latestS, double never) {}
}
