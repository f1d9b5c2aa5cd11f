package soakbench.numerics;

/**
 * Triangular factor L of a symmetric positive definite matrix A = L L', and whitening by it: the
 * only one here, whatever the matrix is (covariance of noise, Toeplitz matrix of evenly spaced
 * blocks, products of columns).
 *
 * <p>Own code, because the library's {@code CholeskyDecomposition} hands out only whole solutions
 * (no half of one, which is what whitening is), wants both halves of the matrix, and copies it four
 * times. Factoring alone, in microseconds for 5, 20, 40 and 80 rows (2 cores of a shared machine,
 * JDK 17, 2026-11-30): this class 0.2, 3, 23, 86; the library 0.7, 7, 46, 187 at best. The verdict
 * factors matrices of 20 to 80 rows with every new block. The tests hold it against the library's.
 */
public final class Cholesky {
  /** Transposed, so that all goes along rows. */
  private final double[][] upper;

  private Cholesky(double[][] upper) {
    this.upper = upper;
  }

  /**
   * Factors.
   *
   * @param a symmetric; only the lower half is read
   * @throws IllegalArgumentException if it is not positive definite
   */
  public static Cholesky of(double[][] a) {
    return factored(copyOfLowerHalf(a), 0);
  }

  /**
   * Factors the Toeplitz matrix with this first row: the covariance of evenly spaced readings. The
   * factor of a shorter record is its corner. At the sixty rows that are asked for, a recursion
   * that uses the equal diagonals would gain nothing, since each is factored once and kept.
   *
   * @param row covariances at lags 0, 1, 2 ...
   * @throws IllegalArgumentException if the matrix is not positive definite
   */
  public static Cholesky ofToeplitz(double[] row) {
    int n = row.length;
    double[][] upper = new double[n][n];
    for (int i = 0; i < n; i++) {
      System.arraycopy(row, 0, upper[i], i, n - i);
    }
    return factored(upper, 0);
  }

  /**
   * Factors products of columns that may depend on each other: where less than this share of a
   * column's square is left beside those before it, as much as that share is taken to be left. So
   * such a column adds hardly anything, in place of a refusal. One that is nothing at all is left
   * out: its diagonal counts as 1.
   *
   * @param a symmetric; only the lower half is read
   * @param leastShare of a diagonal entry, above 0
   */
  public static Cholesky ofDependent(double[][] a, double leastShare) {
    return factored(copyOfLowerHalf(a), leastShare);
  }

  private static double[][] copyOfLowerHalf(double[][] a) {
    int n = a.length;
    double[][] upper = new double[n][n];
    for (int k = 0; k < n; k++) {
      for (int i = k; i < n; i++) {
        upper[k][i] = a[i][k];
      }
    }
    return upper;
  }

  private static Cholesky factored(double[][] u, double leastShare) {
    double[] least = new double[u.length];
    for (int k = 0; k < u.length; k++) {
      least[k] = leastShare > 0 && u[k][k] == 0 ? 1 : leastShare * u[k][k];
    }
    for (int k = 0; k < u.length; k++) {
      double[] row = u[k];
      row[k] = leastShare > 0 ? Math.max(least[k], row[k]) : row[k];
      if (!(row[k] > 0)) {
        throw new IllegalArgumentException(
            "the covariance is not positive definite (row " + k + ")");
      }
      row[k] = Math.sqrt(row[k]);
      for (int i = k + 1; i < row.length; i++) {
        row[i] /= row[k];
      }
      for (int j = k + 1; j < u.length; j++) {
        takeOff(u[j], row[j], row, j);
      }
    }
    return new Cholesky(u);
  }

  private static void takeOff(double[] from, double factor, double[] row, int first) {
    for (int i = first; i < from.length; i++) {
      from[i] -= factor * row[i];
    }
  }

  /** The factor's inverse times a matrix given by rows. */
  double[][] whitened(double[][] rows) {
    double[][] out = new double[rows.length][];
    for (int i = 0; i < rows.length; i++) {
      out[i] = rows[i].clone();
    }
    for (int k = 0; k < rows.length; k++) {
      for (int c = 0; c < out[k].length; c++) {
        out[k][c] /= upper[k][k];
      }
      for (int i = k + 1; i < rows.length; i++) {
        takeOff(out[i], upper[k][i], out[k], 0);
      }
    }
    return out;
  }

  /**
   * The factor's inverse times a column.
   *
   * @param column as long as the matrix, or shorter: then its corner's
   */
  public double[] whitened(double[] column) {
    double[] out = column.clone();
    for (int k = 0; k < out.length; k++) {
      out[k] /= upper[k][k];
      takeOff(out, out[k], upper[k], k + 1);
    }
    return out;
  }

  /**
   * The next entry of a whitened column that becomes longer.
   *
   * @param before whitened entries, of which the first {@code count} are known
   * @param count how many those are
   * @param value the column's next entry
   */
  public double next(double[] before, int count, double value) {
    double rest = value;
    for (int k = 0; k < count; k++) {
      rest -= upper[k][count] * before[k];
    }
    return rest / upper[count][count];
  }

  public double logDeterminant() {
    return logDeterminant(upper.length);
  }

  /** That of the matrix's upper left corner of so many rows. */
  public double logDeterminant(int rows) {
    double sum = 0;
    for (int i = 0; i < rows; i++) {
      sum += 2 * Math.log(upper[i][i]);
    }
    return sum;
  }

  /** Inverse of the matrix that was factored. */
  double[][] inverse() {
    int n = upper.length;
    double[][] identity = new double[n][n];
    for (int i = 0; i < n; i++) {
      identity[i][i] = 1;
    }
    double[][] w = whitened(identity);
    double[][] out = new double[n][n];
    for (int k = 0; k < n; k++) {
      for (int i = 0; i <= k; i++) {
        for (int j = 0; j <= i; j++) {
          out[i][j] += w[k][i] * w[k][j];
        }
      }
    }
    for (int i = 0; i < n; i++) {
      for (int j = 0; j < i; j++) {
        out[j][i] = out[i][j];
      }
    }
    return out;
  }
}
