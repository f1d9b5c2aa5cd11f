package soakbench.numerics;

import java.util.ArrayList;
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

  /** B / N at which the flicker floor is 0.12 to 8 times a half-minute's white noise. */
  private static final double LEAST_RATIO = 0.12 / (Math.sqrt(30) * 0.664);

  private static final double STEP = Math.sqrt(2);
  private static final int RATIOS = 13;

  private static final double LEVEL = 0.95;
  private static final double NORMAL_QUANTILE = 1.959964;
  private static final double MOST_QUANTILE = 13;
  private static final double NEGLIGIBLE = 1e-4;
  private static final int BISECTIONS = 16;

  /** What flicker of B adds to the variance at 1 s: the square of the Allan floor. */
  private static final double FLOOR_SQUARED = 2 * Math.log(2) / Math.PI;

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

  /**
   * Fits several axes that share their blocks.
   *
   * @param design what explains them
   * @param y for each axis one value for each block
   * @param deviation1s Allan deviation at 1 s of each axis, positive
   * @return one answer for each axis
   * @throws IllegalArgumentException if the blocks can't determine the unknowns
   */
  public static List<ColouredRegression> of(
      RegressionDesign design, double[][] y, double[] deviation1s) {
    double[][] flicker = ColouredNoise.covariance(design.midS(), design.widthS(), 0, 1);
    List<List<ColouredFit>> fits = new ArrayList<>();
    for (int axis = 0; axis < y.length; axis++) {
      fits.add(new ArrayList<>());
    }
    for (int k = 0; k < RATIOS; k++) {
      double ratio = LEAST_RATIO * Math.pow(STEP, k);
      Cholesky factor = Cholesky.of(relativeCovariance(design, flicker, ratio));
      double[][] x = factor.whitened(design.columns());
      for (int axis = 0; axis < y.length; axis++) {
        double n = whiteN(deviation1s[axis], ratio);
        fits.get(axis).add(ColouredFit.of(design, factor, x, y[axis], ratio, n));
      }
    }
    List<ColouredRegression> out = new ArrayList<>();
    for (int axis = 0; axis < y.length; axis++) {
      out.add(mixture(design, y[axis], fits.get(axis)));
    }
    return out;
  }

  private static double whiteN(double deviation1s, double ratio) {
    return deviation1s / Math.sqrt(1 + FLOOR_SQUARED * ratio * ratio);
  }

  /** In units of N^2, the lower half. */
  private static double[][] relativeCovariance(
      RegressionDesign design, double[][] flicker, double ratio) {
    int n = design.rows();
    double[][] v = new double[n][n];
    for (int i = 0; i < n; i++) {
      for (int j = 0; j <= i; j++) {
        v[i][j] = ratio * ratio * flicker[i][j];
      }
      v[i][i] += 1 / design.widthS()[i];
    }
    return v;
  }

  private static ColouredRegression mixture(
      RegressionDesign design, double[] y, List<ColouredFit> fits) {
    double most = fits.stream().mapToDouble(ColouredFit::logLikelihood).max().orElseThrow();
    double sum = fits.stream().mapToDouble(f -> Math.exp(f.logLikelihood() - most)).sum();
    List<Component> components = new ArrayList<>();
    for (ColouredFit f : fits) {
      double weight = Math.exp(f.logLikelihood() - most) / sum;
      components.add(
          new Component(f.ratio(), weight, f.whiteN(), f.coefficients(), f.covariance()));
    }
    double[] mean = mean(components);
    return new ColouredRegression(
        components,
        mean,
        covariance(components, mean),
        residuals(design, y, mean),
        design.degreesOfFreedom());
  }

  private static double[] mean(List<Component> components) {
    double[] mean = new double[components.get(0).coefficients().length];
    for (Component c : components) {
      for (int i = 0; i < mean.length; i++) {
        mean[i] += c.weight() * c.coefficients()[i];
      }
    }
    return mean;
  }

  private static double[][] covariance(List<Component> components, double[] mean) {
    double[][] out = new double[mean.length][mean.length];
    for (Component c : components) {
      for (int i = 0; i < mean.length; i++) {
        double di = c.coefficients()[i] - mean[i];
        for (int j = 0; j < mean.length; j++) {
          double dj = c.coefficients()[j] - mean[j];
          out[i][j] += c.weight() * (c.covariance()[i][j] + di * dj);
        }
      }
    }
    return out;
  }

  private static double[] residuals(RegressionDesign design, double[] y, double[] b) {
    double[] out = y.clone();
    for (int i = 0; i < out.length; i++) {
      for (int c = 0; c < b.length; c++) {
        out[i] -= design.columns()[i][c] * b[c];
      }
    }
    return out;
  }

  /**
   * What the likeliest ratio's fit makes of other values: the unknowns that they would be explained
   * by.
   *
   * @param design the one that was fitted
   * @param values one for each block
   */
  public double[] response(RegressionDesign design, double[] values) {
    Component best = likeliest();
    double[][] flicker = ColouredNoise.covariance(design.midS(), design.widthS(), 0, 1);
    Cholesky factor = Cholesky.of(relativeCovariance(design, flicker, best.ratio));
    double[][] x = factor.whitened(design.columns());
    return ColouredFit.of(design, factor, x, values, best.ratio, best.whiteN).coefficients();
  }

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
