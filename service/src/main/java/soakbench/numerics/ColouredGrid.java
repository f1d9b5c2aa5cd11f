package soakbench.numerics;

import java.util.ArrayList;
import java.util.List;
import soakbench.numerics.ColouredRegression.Component;

/** Fits one design for each ratio of flicker to white noise, and weighs the ratios. */
public final class ColouredGrid {
  /** B / N at which the flicker floor is 0.12 times a half-minute's white noise. */
  private static final double LEAST_RATIO = 0.12 / (Math.sqrt(30) * 0.664);

  /** Up to 8 times. */
  private static final int RATIOS = 13;

  private static final double STEP = Math.sqrt(2);

  /** What flicker of B adds to the variance at 1 s: the square of the Allan floor. */
  private static final double FLOOR_SQUARED = 2 * Math.log(2) / Math.PI;

  private final RegressionDesign design;
  private final double[][] flicker;

  private ColouredGrid(RegressionDesign design) {
    this.design = design;
    this.flicker = ColouredNoise.covariance(design.midS(), design.widthS(), 0, 1);
  }

  /**
   * Fits several axes that share their blocks.
   *
   * @param design what explains them
   * @param y for each axis one value for each block
   * @param deviation1s Allan deviation at 1 s of each axis, positive
   * @return one answer for each axis
   * @throws IllegalArgumentException if the blocks can't determine the unknowns
   */
  public static List<ColouredRegression> fit(
      RegressionDesign design, double[][] y, double[] deviation1s) {
    return new ColouredGrid(design).fit(y, deviation1s);
  }

  /**
   * What a ratio's fit makes of other values: the unknowns that they would be explained by.
   *
   * @param design the one that was fitted
   * @param values arrays of one for each block
   * @param at the ratio
   * @return the unknowns of each array
   */
  public static double[][] responses(RegressionDesign design, double[][] values, Component at) {
    return new ColouredGrid(design).responses(values, at);
  }

  private List<ColouredRegression> fit(double[][] y, double[] deviation1s) {
    List<List<ColouredFit>> fits = new ArrayList<>();
    for (int axis = 0; axis < y.length; axis++) {
      fits.add(new ArrayList<>());
    }
    for (int k = 0; k < RATIOS; k++) {
      double ratio = LEAST_RATIO * Math.pow(STEP, k);
      Cholesky factor = Cholesky.of(relativeCovariance(ratio));
      double[][] x = factor.whitened(design.columns());
      for (int axis = 0; axis < y.length; axis++) {
        double n = whiteN(deviation1s[axis], ratio);
        fits.get(axis).add(ColouredFit.of(design, factor, x, y[axis], ratio, n));
      }
    }
    List<ColouredRegression> out = new ArrayList<>();
    for (int axis = 0; axis < y.length; axis++) {
      out.add(mixture(y[axis], fits.get(axis)));
    }
    return out;
  }

  private static double whiteN(double deviation1s, double ratio) {
    return deviation1s / Math.sqrt(1 + FLOOR_SQUARED * ratio * ratio);
  }

  /** In units of N^2, the lower half. */
  private double[][] relativeCovariance(double ratio) {
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

  private ColouredRegression mixture(double[] y, List<ColouredFit> fits) {
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
        residuals(y, mean),
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

  private double[] residuals(double[] y, double[] b) {
    double[] out = y.clone();
    for (int i = 0; i < out.length; i++) {
      for (int c = 0; c < b.length; c++) {
        out[i] -= design.columns()[i][c] * b[c];
      }
    }
    return out;
  }

  /** The unknowns by which one ratio's fit would explain other values. */
  private double[][] responses(double[][] values, Component at) {
    Cholesky factor = Cholesky.of(relativeCovariance(at.ratio()));
    double[][] x = factor.whitened(design.columns());
    double[][] out = new double[values.length][];
    for (int i = 0; i < values.length; i++) {
      out[i] = ColouredFit.of(design, factor, x, values[i], at.ratio(), at.whiteN()).coefficients();
    }
    return out;
  }
}
