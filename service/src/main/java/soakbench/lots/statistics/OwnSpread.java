package soakbench.lots.statistics;

import org.hipparchus.distribution.continuous.ChiSquaredDistribution;
import soakbench.model.Estimate;

/**
 * How far units themselves differ, without what the errors of measuring them add: observed variance
 * less mean squared error (random effects by the method of moments: R. DerSimonian and N. Laird,
 * 1986, Controlled Clinical Trials 7, 177 to 188, there with equal weights).
 *
 * @param observed standard deviation of the figures as measured; null for a single one
 * @param error root mean square of their standard errors; null where one is not known
 * @param own standard deviation of the units, 0 where the errors alone explain what is seen
 */
public record OwnSpread(Double observed, Double error, Estimate own) {

  /**
   * The spread of some figures.
   *
   * @param figures one or more, no NaN
   * @param errors standard error of each; NaN where it is not known
   */
  public static OwnSpread of(double[] figures, double[] errors) {
    int count = figures.length;
    if (count < 2) {
      return new OwnSpread(null, null, Estimate.unknown("one unit alone has no spread"));
    }
    double variance = Moments.of(figures).variance();
    double squared = 0;
    for (double error : errors) {
      squared += error * error / count;
    }
    Double seen = Math.sqrt(variance);
    return Double.isNaN(squared)
        ? new OwnSpread(
            seen,
            null,
            Estimate.unknown("the error of this figure is not known, so it can't be taken out"))
        : new OwnSpread(seen, Math.sqrt(squared), own(variance, squared, count));
  }

  /** Limits by the chi-squared distribution of the observed variance. */
  private static Estimate own(double variance, double error, int count) {
    ChiSquaredDistribution chiSquared = new ChiSquaredDistribution(count - 1.0);
    double squares = variance * (count - 1);
    double low = squares / chiSquared.inverseCumulativeProbability(0.975);
    double high = squares / chiSquared.inverseCumulativeProbability(0.025);
    return new Estimate(root(variance - error), null, root(low - error), root(high - error), null);
  }

  private static double root(double variance) {
    return Math.sqrt(Math.max(0, variance));
  }
}
