package soakbench.numerics;

/**
 * A polynomial by least squares, solved in a centred and scaled variable and given back in powers
 * of {@code x - reference}.
 *
 * @param reference the point about which the powers are taken
 * @param coefficients ascending powers of (x - reference)
 * @param covariance of the coefficients
 * @param residualVariance residual sum of squares over degrees of freedom
 * @param rss residual sum of squares
 */
public record PolynomialFit(
    double reference,
    double[] coefficients,
    double[][] covariance,
    double residualVariance,
    double rss) {

  /**
   * Fits a polynomial.
   *
   * @param x abscissae, no NaN, at least {@code order + 1} different ones
   * @param y ordinates, no NaN
   * @param order highest power, 0 or more
   * @param reference the coefficients are returned about this point
   * @throws IllegalArgumentException if the points can't determine the coefficients
   */
  public static PolynomialFit of(double[] x, double[] y, int order, double reference) {
    Scale scale = Scale.of(x);
    double[][] design = new double[x.length][];
    for (int i = 0; i < x.length; i++) {
      design[i] = powers(scale.to(x[i]), order);
    }
    LinearFit fit = LinearFit.of(design, y);
    double[][] change = changeOfBasis(scale, order, reference);
    return new PolynomialFit(
        reference,
        times(change, fit.coefficients()),
        sandwich(change, fit.unscaledCovariance(), fit.residualVariance()),
        fit.residualVariance(),
        fit.rss());
  }

  public double standardError(int index) {
    return Math.sqrt(covariance[index][index]);
  }

  /** Centre and half width of a set of abscissae. */
  public record Scale(double centre, double halfWidth) {
    public static Scale of(double[] x) {
      double low = Double.POSITIVE_INFINITY;
      double high = Double.NEGATIVE_INFINITY;
      for (double v : x) {
        low = Math.min(low, v);
        high = Math.max(high, v);
      }
      double half = (high - low) / 2;
      return new Scale(low + half, half > 0 ? half : 1);
    }

    public double to(double x) {
      return (x - centre) / halfWidth;
    }
  }

  /** 1, u, u^2 … u^order. */
  public static double[] powers(double u, int order) {
    double[] p = new double[order + 1];
    p[0] = 1;
    for (int k = 1; k <= order; k++) {
      p[k] = p[k - 1] * u;
    }
    return p;
  }

  /**
   * The matrix that turns coefficients in powers of the scaled variable into coefficients in powers
   * of (x - reference).
   */
  public static double[][] changeOfBasis(Scale scale, int order, double reference) {
    // u = (z - d) / h with z = x - reference, d = centre - reference: expand (z - d)^k by the
    // binomial theorem.
    double d = scale.centre() - reference;
    double[][] m = new double[order + 1][order + 1];
    for (int k = 0; k <= order; k++) {
      double binomial = 1;
      for (int j = k; j >= 0; j--) {
        m[j][k] = binomial * Math.pow(-d, k - j) / Math.pow(scale.halfWidth(), k);
        binomial = binomial * j / (k - j + 1);
      }
    }
    return m;
  }

  static double[] times(double[][] m, double[] v) {
    double[] out = new double[m.length];
    for (int i = 0; i < m.length; i++) {
      // Terms of opposite sign nearly cancel here for badly scaled x: sum them with a compensation.
      double sum = 0;
      double lost = 0;
      for (int k = 0; k < v.length; k++) {
        double product = m[i][k] * v[k];
        lost += Math.fma(m[i][k], v[k], -product);
        double next = sum + product;
        lost +=
            Math.abs(sum) >= Math.abs(product) ? (sum - next) + product : (product - next) + sum;
        sum = next;
      }
      out[i] = sum + lost;
    }
    return out;
  }

  static double[][] sandwich(double[][] m, double[][] inner, double factor) {
    int n = m.length;
    double[][] out = new double[n][n];
    for (int i = 0; i < n; i++) {
      for (int j = 0; j < n; j++) {
        double sum = 0;
        for (int k = 0; k < inner.length; k++) {
          for (int l = 0; l < inner.length; l++) {
            sum += m[i][k] * inner[k][l] * m[j][l];
          }
        }
        out[i][j] = sum * factor;
      }
    }
    return out;
  }
}
