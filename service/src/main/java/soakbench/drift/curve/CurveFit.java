package soakbench.drift.curve;

import java.util.Arrays;
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
 * @param regression what they come from
 * @param toPowers rows that turn its unknowns into the coefficients
 * @param residualSdDps standard deviation of the blocks about the curve, deg/s
 */
public record CurveFit(
    double referenceC,
    double[] coefficients,
    double[][] covariance,
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
    double[] left = leftOut(design, regression, referenceC, rows);
    double sd = priorSd(powers);
    double[] c = new double[powers + 1];
    double[][] covariance = new double[powers + 1][powers + 1];
    for (int i = 0; i < powers; i++) {
      for (int k = 0; k < rows[i].length; k++) {
        c[i] += rows[i][k] * regression.coefficients()[k];
      }
      for (int j = 0; j < powers; j++) {
        covariance[i][j] =
            bilinear(rows[i], regression.covariance(), rows[j]) + sd * sd * left[i] * left[j];
      }
      covariance[i][powers] = -sd * sd * left[i];
      covariance[powers][i] = covariance[i][powers];
    }
    covariance[powers][powers] = sd * sd;
    return new CurveFit(referenceC, c, covariance, regression, rows, residualSd(regression));
  }

  /** What one unit of the power that is left out would do to each coefficient. */
  private static double[] leftOut(
      CurveDesign design, ColouredRegression regression, double referenceC, double[][] rows) {
    double[] power =
        design.blocks().stream()
            .mapToDouble(b -> Math.pow(b.temperatureC() - referenceC, rows.length))
            .toArray();
    double[] unknowns = ColouredGrid.response(design.regression(), power, regression.likeliest());
    return Arrays.stream(rows).mapToDouble(row -> dot(row, unknowns)).toArray();
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
