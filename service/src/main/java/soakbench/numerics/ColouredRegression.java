package soakbench.numerics;

import java.util.List;
import org.hipparchus.distribution.continuous.TDistribution;
import org.hipparchus.special.Erf;

/**
 * Generalized least squares over block means whose noise is white plus flicker, in a ratio that is
 * not known: each ratio B / N of a grid is fitted and weighed by its restricted likelihood
 * (Patterson and Thompson, Biometrika 58(3), 1971). The answers are those of the mixture, so their
 * intervals carry that the noise's colour is only estimated; with the likeliest ratio alone they
 * are too short, because a record holds few of the slow swings that the ratio is read from.
 *
 * @param components one for each ratio
 * @param coefficients of the mixture, one for each unknown
 * @param covariance of them
 * @param residuals observed minus fitted, one for each block
 * @param degreesOfFreedom blocks beyond the free unknowns
 */
public record ColouredRegression(
    List<Component> components,
    double[] coefficients,
    double[][] covariance,
    double[] residuals,
    int degreesOfFreedom) {

  private static final double LEVEL = 0.95;
  private static final double NORMAL_QUANTILE = 1.959964;

  /** In standard errors; a mixture with a far-off small share has long tails. */
  private static final double MOST_QUANTILE = 13;

  private static final double NEGLIGIBLE = 1e-4;
  private static final int BISECTIONS = 16;

  /**
   * One ratio's share.
   *
   * @param ratio B / N, sqrt(s)
   * @param weight of its likelihood; all sum to 1
   * @param whiteN N that goes with it
   * @param coefficients one for each unknown
   * @param covariance of them
   */
  public record Component(
      double ratio, double weight, double whiteN, double[] coefficients, double[][] covariance) {}

  /** The ratio with the greatest share. */
  public Component likeliest() {
    return components.stream().max((a, b) -> Double.compare(a.weight(), b.weight())).orElseThrow();
  }

  /** Mean of B over the shares, in the unit of the rate. */
  public double flickerB() {
    return components.stream().mapToDouble(c -> c.weight() * c.ratio() * c.whiteN()).sum();
  }

  /**
   * Half the 95 % interval of a linear combination, in its standard errors: the quantile of the
   * normal mixture, as much longer as that of t with the blocks' degrees of freedom is.
   *
   * @param g one weight for each unknown
   */
  public double quantile(double[] g) {
    double middle = dot(g, coefficients);
    double[] off = new double[components.size()];
    double[] sd = new double[components.size()];
    double variance = 0;
    for (int k = 0; k < sd.length; k++) {
      Component c = components.get(k);
      off[k] = dot(g, c.coefficients) - middle;
      double v = quadratic(g, c.covariance);
      sd[k] = Math.sqrt(v);
      variance += c.weight * (v + off[k] * off[k]);
    }
    double se = Math.sqrt(variance);
    double low = 0;
    double high = se > 0 ? MOST_QUANTILE : 0;
    for (int i = 0; i < BISECTIONS; i++) {
      double mid = (low + high) / 2;
      boolean tooShort = inside(mid * se, off, sd) < LEVEL;
      low = tooShort ? mid : low;
      high = tooShort ? high : mid;
    }
    TDistribution t = new TDistribution(Math.max(1, degreesOfFreedom));
    return high * t.inverseCumulativeProbability((1 + LEVEL) / 2) / NORMAL_QUANTILE;
  }

  /** How much of the mixture lies within so much of its middle. */
  private double inside(double half, double[] off, double[] sd) {
    double inside = 0;
    for (int k = 0; k < sd.length; k++) {
      double weight = components.get(k).weight;
      if (weight > NEGLIGIBLE) {
        double scale = sd[k] * Math.sqrt(2);
        inside += weight / 2 * Erf.erf((-half - off[k]) / scale, (half - off[k]) / scale);
      } else {
        inside += weight;
      }
    }
    return inside;
  }

  private static double dot(double[] a, double[] b) {
    double sum = 0;
    for (int i = 0; i < a.length; i++) {
      sum += a[i] * b[i];
    }
    return sum;
  }

  /** g' C g. */
  public static double quadratic(double[] g, double[][] covariance) {
    double sum = 0;
    for (int i = 0; i < g.length; i++) {
      for (int j = 0; j < g.length; j++) {
        sum += g[i] * covariance[i][j] * g[j];
      }
    }
    return sum;
  }
}
