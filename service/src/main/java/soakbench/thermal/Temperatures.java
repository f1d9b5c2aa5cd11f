package soakbench.thermal;

import java.util.Arrays;
import java.util.List;
import soakbench.model.Bin;

/**
 * The temperatures of a soak by time.
 *
 * @param timeS seconds since it began, ascending
 * @param temperatureC means, degC
 * @param seconds how many seconds each is the mean of
 */
record Temperatures(double[] timeS, double[] temperatureC, double[] seconds) {

  /** Second by second. */
  static Temperatures of(List<Bin> bins, long startSecond) {
    double[] ones = new double[bins.size()];
    Arrays.fill(ones, 1);
    return new Temperatures(
        bins.stream().mapToDouble(b -> b.second() - startSecond + 0.5).toArray(),
        bins.stream().mapToDouble(b -> b.temperatureC().mean()).toArray(),
        ones);
  }

  double spanS() {
    return timeS[timeS.length - 1];
  }

  /** Whether it was anything but one and the same. */
  boolean changed() {
    return Arrays.stream(temperatureC).anyMatch(c -> c != temperatureC[0]);
  }
}
