package soakbench.numerics;

/**
 * Lower triangular factor of a covariance, and whitening by it. Own code because the library's
 * copies its matrices several times, and this is where a figure's time goes.
 */
final class Cholesky {
  private final double[][] l;

  private Cholesky(double[][] l) {
    this.l = l;
  }

  /**
   * Factors.
   *
   * @param a symmetric; only the lower half is read
   * @throws IllegalArgumentException if it is not positive definite
   */
  static Cholesky of(double[][] a) {
    int n = a.length;
    double[][] l = new double[n][];
    for (int i = 0; i < n; i++) {
      double[] li = new double[i + 1];
      l[i] = li;
      for (int j = 0; j <= i; j++) {
        double[] lj = l[j];
        double sum = a[i][j];
        for (int k = 0; k < j; k++) {
          sum -= li[k] * lj[k];
        }
        if (i > j) {
          li[j] = sum / lj[j];
        } else if (sum > 0) {
          li[i] = Math.sqrt(sum);
        } else {
          throw new IllegalArgumentException(
              "the covariance is not positive definite (row " + i + ")");
        }
      }
    }
    return new Cholesky(l);
  }

  /** The factor's inverse times a matrix given by rows. */
  double[][] whitened(double[][] rows) {
    double[][] out = new double[rows.length][];
    for (int i = 0; i < rows.length; i++) {
      double[] row = rows[i].clone();
      for (int k = 0; k < i; k++) {
        double f = l[i][k];
        double[] above = out[k];
        for (int c = 0; c < row.length; c++) {
          row[c] -= f * above[c];
        }
      }
      for (int c = 0; c < row.length; c++) {
        row[c] /= l[i][i];
      }
      out[i] = row;
    }
    return out;
  }

  double[] whitened(double[] values) {
    double[] out = new double[values.length];
    for (int i = 0; i < out.length; i++) {
      double sum = values[i];
      for (int k = 0; k < i; k++) {
        sum -= l[i][k] * out[k];
      }
      out[i] = sum / l[i][i];
    }
    return out;
  }

  double logDeterminant() {
    double sum = 0;
    for (int i = 0; i < l.length; i++) {
      sum += 2 * Math.log(l[i][i]);
    }
    return sum;
  }

  /** Inverse of the matrix that was factored. */
  double[][] inverse() {
    int n = l.length;
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
