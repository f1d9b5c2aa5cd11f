package soakbench.numerics;

import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.SingularValueDecomposition;

/** How well columns can be told from each other. */
public final class Condition {
  private Condition() {}

  /**
   * Condition number of a matrix whose columns are first scaled to length 1 (Belsley, Kuh and
   * Welsch, Regression Diagnostics, 1980): above some 30 the columns can hardly be told apart.
   *
   * @param rows at least as many as columns
   * @return infinite where a column is zero or the columns depend on each other
   */
  public static double of(double[][] rows) {
    int columns = rows[0].length;
    double[][] scaled = new double[rows.length][columns];
    for (int c = 0; c < columns; c++) {
      double square = 0;
      for (double[] row : rows) {
        square += row[c] * row[c];
      }
      if (!(square > 0)) {
        return Double.POSITIVE_INFINITY;
      }
      for (int i = 0; i < rows.length; i++) {
        scaled[i][c] = rows[i][c] / Math.sqrt(square);
      }
    }
    double[] s =
        new SingularValueDecomposition(MatrixUtils.createRealMatrix(scaled)).getSingularValues();
    double least = s[s.length - 1];
    return least > 1e-14 * s[0] ? s[0] / least : Double.POSITIVE_INFINITY;
  }
}
