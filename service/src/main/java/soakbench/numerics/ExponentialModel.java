package soakbench.numerics;

import org.hipparchus.distribution.continuous.TDistribution;

/**
 * A model of one or two time constants fitted to readings with white and Gauss-Markov noise, with
 * 95 % limits.
 *
 * @param fit generalized least squares
 * @param noise what the residuals are like
 * @param profile 95 % limits by profile likelihood
 * @param quantile standard errors between figure and limit where all is normal
 */
public record ExponentialModel(
    ExponentialFit.Result fit, MarkovNoise noise, ExponentialProfile profile, double quantile) {

  private static final int ROUNDS = 2;
  private static final double LEAST_DEGREES = 3;

  /**
   * Fits.
   *
   * @param t times, s, ascending, from 0
   * @param y readings, no NaN
   * @param weight of each reading, positive; its white variance goes with 1/weight
   * @param count 1 or 2 time constants
   * @throws IllegalArgumentException if there are too few readings or they do not change
   * @throws org.hipparchus.exception.MathRuntimeException if the iteration does not settle
   */
  public static ExponentialModel of(double[] t, double[] y, double[] weight, int count) {
    MarkovNoise noise = MarkovNoise.white(t, weight);
    ExponentialFit kind = ExponentialFit.withTimeConstants(count);
    ExponentialFit.Result fit = kind.withNoise(noise).fit(t, y);
    for (int i = 0; i < ROUNDS; i++) {
      double bodyS = fit.timeConstants()[count - 1];
      noise = MarkovSearch.of(t, weight, bodyS, derivatives(t, fit), residuals(t, y, fit));
      fit = kind.withNoise(noise).fitFrom(t, y, fit.timeConstants());
    }
    double quantile = new TDistribution(degrees(t, fit, noise)).inverseCumulativeProbability(0.975);
    ExponentialProfile profile = ExponentialProfile.of(t, y, noise, fit, quantile);
    return new ExponentialModel(fit, noise, profile, quantile);
  }

  /** A Gauss-Markov drift counts once for each two correlation times. */
  private static double degrees(double[] t, ExponentialFit.Result fit, MarkovNoise noise) {
    double rows = fit.degreesOfFreedom();
    double correlated = (t[t.length - 1] - t[0]) / (2 * noise.lengthS());
    return noise.lengthS() == 0 ? rows : Math.max(LEAST_DEGREES, Math.min(rows, correlated));
  }

  /** Standard deviation of the readings about the model, per unit of y. */
  public double residualSd(double[] t, double[] y) {
    double sum = 0;
    for (double e : residuals(t, y, fit)) {
      sum += e * e;
    }
    return Math.sqrt(sum / fit.degreesOfFreedom());
  }

  private static double[] residuals(double[] t, double[] y, ExponentialFit.Result fit) {
    double[] out = new double[t.length];
    for (int i = 0; i < t.length; i++) {
      out[i] = y[i] - fit.at(t[i]);
    }
    return out;
  }

  private static double[][] derivatives(double[] t, ExponentialFit.Result fit) {
    int count = fit.timeConstants().length;
    double[][] columns = new double[1 + 2 * count][t.length];
    for (int i = 0; i < t.length; i++) {
      columns[0][i] = 1;
      for (int k = 0; k < count; k++) {
        double x = t[i] / fit.timeConstants()[k];
        columns[1 + k][i] = Math.exp(-x);
        columns[1 + count + k][i] = Math.exp(-x) * x;
      }
    }
    return columns;
  }
}
