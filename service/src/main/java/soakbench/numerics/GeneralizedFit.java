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
    Cholesky factor = Cholesky.of(noise);
    LinearFit fit = LinearFit.of(factor.whitened(design), factor.whitened(y));
    double likelihood = -0.5 * (factor.logDeterminant() + fit.logGram() + fit.rss());
    return new GeneralizedFit(
        fit.coefficients(),
        fit.unscaledCovariance(),
        fit.rss(),
        fit.degreesOfFreedom(),
        likelihood);
  }
}
