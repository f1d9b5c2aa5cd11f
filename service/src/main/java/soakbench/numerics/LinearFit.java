package soakbench.numerics;

import org.hipparchus.linear.Array2DRowRealMatrix;
import org.hipparchus.linear.ArrayRealVector;
import org.hipparchus.linear.QRDecomposition;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.RealVector;

/**
 * Ordinary linear least squares by Householder QR.
 *
 * @param coefficients one for each column of the design
 * @param unscaledCovariance inverse of X'X; times {@code residualVariance()} it is the
 *     coefficients' covariance
 * @param residuals observed minus fitted, one for each row
 * @param rss residual sum of squares
 * @param logGram logarithm of the determinant of X'X. Taken from R: it has half the digits that X'X
 *     or its inverse would need, where columns nearly depend on each other
 */
public record LinearFit(
    double[] coefficients,
    double[][] unscaledCovariance,
    double[] residuals,
    double rss,
    double logGram) {

  /**
   * Fits y = X b.
   *
   * @param design rows by columns; more rows than columns, full column rank
   * @param y one value for each row, no NaN
   * @throws IllegalArgumentException if there are too few rows or the columns depend on each other
   */
  public static LinearFit of(double[][] design, double[] y) {
    int rows = design.length;
    int columns = rows == 0 ? 0 : design[0].length;
    if (rows < columns || columns == 0 || y.length != rows) {
      throw new IllegalArgumentException(
          rows + " rows can't determine " + columns + " coefficients (" + y.length + " values)");
    }
    RealMatrix x = new Array2DRowRealMatrix(design, false);
    QRDecomposition qr = new QRDecomposition(x);
    RealMatrix r = qr.getR().getSubMatrix(0, columns - 1, 0, columns - 1);
    requireFullRank(r);
    RealVector observed = new ArrayRealVector(y, false);
    RealVector b = qr.getSolver().solve(observed);
    // One step of iterative refinement: regains the digits that badly scaled columns cost.
    b = b.add(qr.getSolver().solve(observed.subtract(x.operate(b))));
    double[] residuals = observed.subtract(x.operate(b)).toArray();
    double rss = 0;
    for (double e : residuals) {
      rss += e * e;
    }
    return new LinearFit(b.toArray(), inverseGram(r), residuals, rss, logGram(r));
  }

  public int degreesOfFreedom() {
    return residuals.length - coefficients.length;
  }

  /** Residual variance; NaN without degrees of freedom. */
  public double residualVariance() {
    return degreesOfFreedom() > 0 ? rss / degreesOfFreedom() : Double.NaN;
  }

  /** Standard error of coefficient {@code index}. */
  public double standardError(int index) {
    return Math.sqrt(unscaledCovariance[index][index] * residualVariance());
  }

  private static void requireFullRank(RealMatrix r) {
    int columns = r.getColumnDimension();
    for (int j = 0; j < columns; j++) {
      double norm = 0;
      for (int i = 0; i <= j; i++) {
        norm = Math.hypot(norm, r.getEntry(i, j));
      }
      if (!(Math.abs(r.getEntry(j, j)) > 1e-14 * norm)) {
        throw new IllegalArgumentException(
            "column " + j + " depends on the columns before it: the data can't tell them apart");
      }
    }
  }

  private static double logGram(RealMatrix r) {
    double sum = 0;
    for (int j = 0; j < r.getColumnDimension(); j++) {
      sum += 2 * Math.log(Math.abs(r.getEntry(j, j)));
    }
    return sum;
  }

  private static double[][] inverseGram(RealMatrix r) {
    int n = r.getColumnDimension();
    double[][] inverse = new double[n][n];
    for (int j = n - 1; j >= 0; j--) {
      inverse[j][j] = 1 / r.getEntry(j, j);
      for (int i = j - 1; i >= 0; i--) {
        double sum = 0;
        for (int k = i + 1; k <= j; k++) {
          sum += r.getEntry(i, k) * inverse[k][j];
        }
        inverse[i][j] = -sum / r.getEntry(i, i);
      }
    }
    RealMatrix m = new Array2DRowRealMatrix(inverse, false);
    return m.multiplyTransposed(m).getData();
  }
}
