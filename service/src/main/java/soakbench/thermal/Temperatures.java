package soakbench.thermal;

import java.util.Arrays;

/**
 * The temperatures of a soak by time.
 *
 * @param timeS seconds since it began, ascending
 * @param temperatureC means, degC
 * @param seconds how many seconds each is the mean of
 */
record Temperatures(double[] timeS, double[] temperatureC, double[] seconds) {

  /** Second by second. */
  static Temperatures bySecond(BlockSeries series) {
    double[] ones = new double[series.size()];
    Arrays.fill(ones, 1);
    return new Temperatures(series.timesFrom(0), series.temperaturesFrom(0), ones);
  }

  double spanS() {
    return timeS[timeS.length - 1];
  }

  /** Whether it was anything but one and the same. */
  boolean changed() {
    return Arrays.stream(temperatureC).anyMatch(c -> c != temperatureC[0]);
  }
}
