package soakbench.drift.heading;

import java.util.Arrays;
import java.util.List;
import soakbench.model.Bin;

/**
 * Temperatures of a recorded use, second by second.
 *
 * @param name of the soak that it was recorded in
 * @param timeS since its start, s, ascending
 * @param temperatureC degC
 */
public record UseProfile(String name, double[] timeS, double[] temperatureC) {

  /**
   * That of a soak.
   *
   * @param bins by time; those without a temperature are left out
   */
  public static UseProfile of(String soak, List<Bin> bins) {
    List<Bin> read = bins.stream().filter(b -> b.temperatureC().count() > 0).toList();
    long start = read.isEmpty() ? 0 : read.get(0).second();
    return new UseProfile(
        soak,
        read.stream().mapToDouble(b -> b.second() - start).toArray(),
        read.stream().mapToDouble(b -> b.temperatureC().mean()).toArray());
  }

  double lowC() {
    return Arrays.stream(temperatureC).min().orElse(Double.NaN);
  }

  double highC() {
    return Arrays.stream(temperatureC).max().orElse(Double.NaN);
  }

  double lengthS() {
    return timeS.length < 2 ? 0 : timeS[timeS.length - 1];
  }
}
