package soakbench.numerics;

/**
 * Lower triangular factor of a covariance, and whitening by it. Own code because the library's
 * copies its matrices several times, and this is where a figure's time goes.
 */
final class Cholesky {
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
  static Cholesky of(double[][] a) {
    int n = a.length;
    double[][] u = new double[n][n];
    for (int k = 0; k < n; k++) {
      for (int i = k; i < n; i++) {
        u[k][i] = a[i][k];
      }
    }
    for (int k = 0; k < n; k++) {
      double[] row = u[k];
      if (!(row[k] > 0)) {
        throw new IllegalArgumentException(
            "the covariance is not positive definite (row " + k + ")");
      }
      row[k] = Math.sqrt(row[k]);
      for (int i = k + 1; i < n; i++) {
        row[i] /= row[k];
      }
      for (int j = k + 1; j < n; j++) {
        takeOff(u[j], row[j], row, j);
      }
    }
    return new Cholesky(u);
  }

  private static void takeOff(double[] from, double factor, double[] row, int first) {
    for (int i = first; i < row.length; i++) {
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

  double[] whitened(double[] values) {
    double[] out = values.clone();
    for (int k = 0; k < out.length; k++) {
      out[k] /= upper[k][k];
      takeOff(out, out[k], upper[k], k + 1);
    }
    return out;
  }

  double logDeterminant() {
    double sum = 0;
    for (int i = 0; i < upper.length; i++) {
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
