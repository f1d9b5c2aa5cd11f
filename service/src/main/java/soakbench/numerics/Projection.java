package soakbench.numerics;

/**
 * Least squares by modified Gram-Schmidt on columns: for searches that fit thousands of times and
 * need no more than half the digits (A. Bjorck, BIT 7, 1967). {@link LinearFit} is for the figures.
 *
 * @param coefficients one for each column
 * @param unscaledVariance of the first coefficient
 * @param logGram logarithm of the determinant of X'X
 * @param rss residual sum of squares; infinity where the columns depend on each other
 */
record Projection(double[] coefficients, double unscaledVariance, double logGram, double rss) {
  /** A column of which less is left than this share depends on those before it. */
  static final double DEPENDENT = 1e-9;

  /** Projects {@code y} on the columns. Overwrites its arguments. */
  static Projection of(double[][] columns, double[] y) {
    int p = columns.length;
    double[][] r = new double[p][p];
    double[] qy = new double[p];
    double logGram = 0;
    for (int j = 0; j < p; j++) {
      double before = Math.sqrt(dot(columns[j], columns[j]));
      for (int k = 0; k < j; k++) {
        r[k][j] = takeOff(columns[j], columns[k]);
      }
      r[j][j] = Math.sqrt(dot(columns[j], columns[j]));
      if (!(r[j][j] > DEPENDENT * before)) {
        return new Projection(new double[p], Double.NaN, Double.NaN, Double.POSITIVE_INFINITY);
      }
      for (int i = 0; i < y.length; i++) {
        columns[j][i] /= r[j][j];
      }
      logGram += 2 * Math.log(r[j][j]);
      qy[j] = takeOff(y, columns[j]);
    }
    return new Projection(solved(r, qy), firstVariance(r), logGram, dot(y, y));
  }

  /** Takes the part along a unit column off another. */
  static double takeOff(double[] from, double[] unit) {
    double along = dot(from, unit);
    for (int i = 0; i < from.length; i++) {
      from[i] -= along * unit[i];
    }
    return along;
  }

  private static double[] solved(double[][] r, double[] qy) {
    double[] b = qy.clone();
    for (int j = b.length - 1; j >= 0; j--) {
      for (int k = j + 1; k < b.length; k++) {
        b[j] -= r[j][k] * b[k];
      }
      b[j] /= r[j][j];
    }
    return b;
  }

  /** The first row of the inverse of R, squared and summed. */
  private static double firstVariance(double[][] r) {
    int p = r.length;
    double[] row = new double[p];
    double sum = 0;
    for (int j = 0; j < p; j++) {
      double v = j == 0 ? 1 : 0;
      for (int k = 0; k < j; k++) {
        v -= row[k] * r[k][j];
      }
      row[j] = v / r[j][j];
      sum += row[j] * row[j];
    }
    return sum;
  }

  static double dot(double[] a, double[] b) {
    double p = 0;
    double q = 0;
    double r = 0;
    double s = 0;
    int i = 0;
    // Four sums at a time, because one would wait for itself.
    for (; i + 3 < a.length; i += 4) {
      p += a[i] * b[i];
      q += a[i + 1] * b[i + 1];
      r += a[i + 2] * b[i + 2];
      s += a[i + 3] * b[i + 3];
    }
    for (; i < a.length; i++) {
      p += a[i] * b[i];
    }
    return p + q + (r + s);
  }
}
