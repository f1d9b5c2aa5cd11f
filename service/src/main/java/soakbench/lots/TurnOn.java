package soakbench.lots;

import java.util.List;
import org.hipparchus.distribution.continuous.ChiSquaredDistribution;
import soakbench.model.Estimate;

/**
 * Turn-on to turn-on repeatability of a bias: its standard deviation at one temperature from one
 * power-up to the next, beyond what the measurements' own errors explain.
 */
final class TurnOn {
  /** Of fewer the spread can't be separated from the errors. */
  private static final int LEAST = 3;

  private TurnOn() {}

  /**
   * The repeatability, deg/s: observed variance minus mean squared error (method of moments);
   * limits by the chi-squared distribution of the observed variance. What all soaks repeat makes
   * them no different.
   *
   * @param biasesDps one of each soak, at the same temperature and on the same face
   */
  static Estimate repeatability(List<Part> biasesDps) {
    int count = biasesDps.size();
    if (count < LEAST) {
      return Estimate.unknown(
          "needs "
              + LEAST
              + " soaks at this temperature, lying the same way; there "
              + (count == 1 ? "is 1" : "are " + count));
    }
    double mean = biasesDps.stream().mapToDouble(Part::value).average().orElseThrow();
    double squares = 0;
    double errors = 0;
    for (Part e : biasesDps) {
      squares += (e.value() - mean) * (e.value() - mean);
      errors += e.ownVariance() / count;
    }
    ChiSquaredDistribution chiSquared = new ChiSquaredDistribution(count - 1.0);
    double low = squares / chiSquared.inverseCumulativeProbability(0.975);
    double high = squares / chiSquared.inverseCumulativeProbability(0.025);
    return new Estimate(
        root(squares / (count - 1) - errors), null, root(low - errors), root(high - errors), null);
  }

  private static double root(double variance) {
    return Math.sqrt(Math.max(0, variance));
  }
}
