package soakbench.numerics;

/**
 * Generalized least squares: y = X b + e with the covariance of e known (Aitken 1935). Solved by
 * whitening with the Cholesky factor, then QR.
 *
 * @param coefficients one for each column
 * @param covariance of the coefficients; not scaled by the residuals
 * @param weightedRss residual sum of squares after whitening; its expectation is the degrees of
 *     freedom
 * @param degreesOfFreedom rows minus columns
 * @param restrictedLogLikelihood up to a constant (Patterson and Thompson, Biometrika 58(3), 1971)
 */
public record GeneralizedFit(
    double[] coefficients,
    double[][] covariance,
    double weightedRss,
    int degreesOfFreedom,
    double restrictedLogLikelihood) {

  /**
   * Fits.
   *
   * @param design rows by columns, more rows than columns
   * @param y one value for each row
   * @param noise covariance of the noise, positive definite
   * @throws IllegalArgumentException if the covariance is not positive definite or the columns
   *     depend on each other
   */
  public static GeneralizedFit of(double[][] design, double[] y, double[][] noise) {
    double[][] l = cholesky(noise);
    int rows = y.length;
    int columns = design[0].length;
    double[][] x = new double[rows][columns];
    double[] z = new double[rows];
    double logDeterminant = 0;
    for (int i = 0; i < rows; i++) {
      double[] row = x[i];
      System.arraycopy(design[i], 0, row, 0, columns);
      double right = y[i];
      for (int k = 0; k < i; k++) {
        double f = l[i][k];
        double[] above = x[k];
        for (int c = 0; c < columns; c++) {
          row[c] -= f * above[c];
        }
        right -= f * z[k];
      }
      for (int c = 0; c < columns; c++) {
        row[c] /= l[i][i];
      }
      z[i] = right / l[i][i];
      logDeterminant += 2 * Math.log(l[i][i]);
    }
    LinearFit fit = LinearFit.of(x, z);
    double logGram = -logDeterminantOf(fit.unscaledCovariance());
    double likelihood = -0.5 * (logDeterminant + logGram + fit.rss());
    return new GeneralizedFit(
        fit.coefficients(),
        fit.unscaledCovariance(),
        fit.rss(),
        fit.degreesOfFreedom(),
        likelihood);
  }

  private static double logDeterminantOf(double[][] positive) {
    double[][] l = cholesky(positive);
    double sum = 0;
    for (int i = 0; i < l.length; i++) {
      sum += 2 * Math.log(l[i][i]);
    }
    return sum;
  }

  private static double[][] cholesky(double[][] a) {
    int n = a.length;
    double[][] l = new double[n][n];
    for (int i = 0; i < n; i++) {
      double[] li = l[i];
      for (int j = 0; j <= i; j++) {
        double[] lj = l[j];
        double sum = a[i][j];
        for (int k = 0; k < j; k++) {
          sum -= li[k] * lj[k];
        }
        if (i == j) {
          if (!(sum > 0)) {
            throw new IllegalArgumentException(
                "the covariance is not positive definite (row " + i + ")");
          }
          li[i] = Math.sqrt(sum);
        } else {
          li[j] = sum / lj[j];
        }
      }
    }
    return l;
  }
}
