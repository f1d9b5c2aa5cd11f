package soakbench.numerics;

import java.util.Arrays;

/**
 * Generalized least squares for one ratio B / N, with priors of some unknowns as further rows
 * (Henderson, Biometrics 31(2), 1975).
 *
 * @param whiteN N that goes with the ratio
 * @param coefficients one for each unknown
 * @param covariance of them; inflated where the blocks scatter more than the noise predicts
 * @param logLikelihood restricted, up to a constant that all ratios share
 */
record ColouredFit(
    double ratio,
    double whiteN,
    double[] coefficients,
    double[][] covariance,
    double logLikelihood) {

  /**
   * Fits.
   *
   * @param factor of the covariance in units of N^2
   * @param columns the design, whitened by it
   */
  static ColouredFit of(
      RegressionDesign design,
      Cholesky factor,
      double[][] columns,
      double[] y,
      double ratio,
      double n) {
    int rows = design.rows();
    int unknowns = design.unknowns();
    double[][] all = Arrays.copyOf(columns, rows + unknowns);
    int row = rows;
    for (int c = 0; c < unknowns; c++) {
      if (!Double.isInfinite(design.priorSd()[c])) {
        all[row] = new double[unknowns];
        all[row++][c] = n / design.priorSd()[c];
      }
    }
    LinearFit fit = LinearFit.of(Arrays.copyOf(all, row), Arrays.copyOf(factor.whitened(y), row));
    double rss = fit.rss() / (n * n);
    double logN = 2 * (rows - unknowns) * Math.log(n);
    double scale = n * n * Math.max(1, rss / Math.max(1, design.degreesOfFreedom()));
    return new ColouredFit(
        ratio,
        n,
        fit.coefficients(),
        scaled(fit.unscaledCovariance(), scale),
        -0.5 * (factor.logDeterminant() + fit.logGram() + logN + rss));
  }

  private static double[][] scaled(double[][] m, double factor) {
    double[][] out = new double[m.length][m.length];
    for (int i = 0; i < m.length; i++) {
      for (int j = 0; j < m.length; j++) {
        out[i][j] = factor * m[i][j];
      }
    }
    return out;
  }
}
