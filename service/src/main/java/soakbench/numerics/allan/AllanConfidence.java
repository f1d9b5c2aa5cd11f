package soakbench.numerics.allan;

import org.hipparchus.distribution.continuous.GammaDistribution;

/**
 * How sure an overlapping Allan deviation is: equivalent degrees of freedom by the kind of noise,
 * and chi-squared limits (NIST SP 1065, W. J. Riley 2008, 5.4.1, table 5, and 5.4.2).
 */
public final class AllanConfidence {
  private AllanConfidence() {}

  /** Noise of a rate, by the slope of its deviation. */
  public enum Kind {
    /** Slope -1/2. */
    WHITE,
    /** Flat. */
    FLICKER,
    /** Slope +1/2. */
    RANDOM_WALK
  }

  /**
   * Equivalent degrees of freedom.
   *
   * @param phases phase points of the stretch: readings plus one
   * @param m averaging factor, at most half the readings
   * @return at least 1
   */
  public static double degreesOfFreedom(Kind kind, double phases, double m) {
    double n = phases;
    double edf =
        switch (kind) {
          case WHITE -> (3 * (n - 1) / (2 * m) - 2 * (n - 2) / n) * 4 * m * m / (4 * m * m + 5);
          case FLICKER ->
              m < 2 ? 2 * (n - 2) * (n - 2) / (2.3 * n - 4.9) : 5 * n * n / (4 * m * (n + 3 * m));
          case RANDOM_WALK ->
              (n - 2) / m * ((n - 1) * (n - 1) - 3 * m * (n - 1) + 4 * m * m) / ((n - 3) * (n - 3));
        };
    return edf > 1 ? edf : 1;
  }

  /**
   * Limits of a deviation.
   *
   * @param level share that they hold, between 0 and 1
   * @return lower and upper limit
   */
  public static double[] limits(double deviation, double degreesOfFreedom, double level) {
    GammaDistribution chiSquare = new GammaDistribution(degreesOfFreedom / 2, 2);
    double most = chiSquare.inverseCumulativeProbability((1 + level) / 2);
    double least = chiSquare.inverseCumulativeProbability((1 - level) / 2);
    return new double[] {
      deviation * Math.sqrt(degreesOfFreedom / most),
      deviation * Math.sqrt(degreesOfFreedom / least)
    };
  }
}
