package soakbench.drift.curve;

import soakbench.model.Estimate;
import soakbench.numerics.ColouredGrid;
import soakbench.numerics.ColouredRegression;

/**
 * The bias curve of one axis with its uncertainty. That of the next power, which the span does not
 * let show itself, is part of it: the interval of a curve of too few powers would else be too
 * short.
 *
 * @param referenceC powers are taken about this temperature, degC
 * @param coefficients ascending powers of (T - reference), the first in the newest pose, and a last
 *     one, zero, for the power that is left out
 * @param covariance of them
 * @param repeated what of that is the same in every soak of the unit
 * @param regression what they come from
 * @param toPowers rows that turn its unknowns into the coefficients
 * @param residualSdDps standard deviation of the blocks about the curve, deg/s
 */
public record CurveFit(
    double referenceC,
    double[] coefficients,
    double[][] covariance,
    RepeatedErrors repeated,
    ColouredRegression regression,
    double[][] toPowers,
    double residualSdDps) {

  /**
   * Prior standard deviation of the power that is left out, deg/s per degC^k: of the first 0 plus
   * or minus 0.02, and each further one brings as much as the one before it at thirty degrees from
   * the reference (common practice, no source).
   */
  private static double priorSd(int power) {
    return 0.02 * Math.pow(30, 1 - power);
  }

  static CurveFit of(CurveDesign design, ColouredRegression regression, double referenceC) {
    double[][] rows = design.toPowers(referenceC);
    int powers = rows.length;
    double sd = priorSd(powers);
    double[][] unknowns =
        ColouredGrid.responses(
            design.regression(),
            new double[][] {design.rates(), design.power(referenceC, powers)},
            regression.likeliest());
    boolean told = Double.isInfinite(design.lagSd());
    double[] lag = scaled(told ? 0 : design.lagSd(), rows, unknowns[0]);
    double[] leftOut = scaled(sd, rows, unknowns[1]);
    leftOut[powers] = -sd;
    double[] c = scaled(1, rows, regression.coefficients());
    double[][] covariance = covariance(rows, regression, leftOut);
    return new CurveFit(
        referenceC,
        c,
        covariance,
        new RepeatedErrors(lag, leftOut),
        regression,
        rows,
        residualSd(regression));
  }

  /** That of the fit, with what the power left out adds to it. */
  private static double[][] covariance(
      double[][] rows, ColouredRegression regression, double[] leftOut) {
    int powers = rows.length;
    double[][] covariance = new double[powers + 1][powers + 1];
    for (int i = 0; i <= powers; i++) {
      for (int j = 0; j <= powers; j++) {
        boolean fitted = i < powers && j < powers;
        covariance[i][j] =
            (fitted ? bilinear(rows[i], regression.covariance(), rows[j]) : 0)
                + leftOut[i] * leftOut[j];
      }
    }
    return covariance;
  }

  /** So many times what each coefficient is made of these unknowns, and 0 for the last. */
  private static double[] scaled(double factor, double[][] rows, double[] unknowns) {
    double[] out = new double[rows.length + 1];
    for (int i = 0; i < rows.length; i++) {
      out[i] = factor * dot(rows[i], unknowns);
    }
    return out;
  }

  private static double residualSd(ColouredRegression regression) {
    double sum = 0;
    for (double e : regression.residuals()) {
      sum += e * e;
    }
    return Math.sqrt(sum / Math.max(1, regression.degreesOfFreedom()));
  }

  private static double dot(double[] a, double[] b) {
    double sum = 0;
    for (int i = 0; i < a.length; i++) {
      sum += a[i] * b[i];
    }
    return sum;
  }

  private static double bilinear(double[] a, double[][] m, double[] b) {
    double sum = 0;
    for (int i = 0; i < a.length; i++) {
      sum += a[i] * dot(m[i], b);
    }
    return sum;
  }

  /** As it is reported. */
  BiasCurve.Powers powers() {
    double limitsSe = quantile(slopeAt(referenceC));
    return new BiasCurve.Powers(
        coefficients.length - 2, coefficients, covariance, limitsSe, repeated);
  }

  /** Weights of the coefficients in the bias at a temperature. */
  double[] at(double temperatureC) {
    double[] g = new double[coefficients.length];
    for (int k = 0; k < g.length; k++) {
      g[k] = Math.pow(temperatureC - referenceC, k);
    }
    return g;
  }

  /** Weights of the coefficients in the slope at a temperature. */
  double[] slopeAt(double temperatureC) {
    double[] g = new double[coefficients.length];
    for (int k = 1; k < g.length; k++) {
      g[k] = k * Math.pow(temperatureC - referenceC, k - 1);
    }
    return g;
  }

  /** Weights of the coefficients in the bias at one temperature minus that at another. */
  public double[] difference(double fromC, double toC) {
    double[] g = at(toC);
    double[] from = at(fromC);
    for (int k = 0; k < g.length; k++) {
      g[k] -= from[k];
    }
    return g;
  }

  /** A linear combination of the coefficients with its 95 % interval. */
  public Estimate estimate(double[] g) {
    return Estimate.of(value(g), standardError(g), quantile(g));
  }

  /** One of the fit's other unknowns with its 95 % interval. */
  Estimate unknown(int index) {
    return unknown(regression, index);
  }

  static Estimate unknown(ColouredRegression regression, int index) {
    double[] g = new double[regression.coefficients().length];
    g[index] = 1;
    double q = regression.quantile(g);
    double se = Math.sqrt(regression.covariance()[index][index]);
    return Estimate.of(regression.coefficients()[index], se, q);
  }

  public double value(double[] g) {
    return dot(g, coefficients);
  }

  public double standardError(double[] g) {
    return Math.sqrt(Math.max(0, bilinear(g, covariance, g)));
  }

  /** Half a 95 % interval in standard errors. */
  public double quantile(double[] g) {
    double[] unknowns = new double[toPowers[0].length];
    for (int k = 0; k < toPowers.length; k++) {
      for (int i = 0; i < unknowns.length; i++) {
        unknowns[i] += g[k] * toPowers[k][i];
      }
    }
    return regression.quantile(unknowns);
  }
}
