package soakbench.readiness.estimator;

import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;

/**
 * A linear model x' = A x + noise carried over a step of time without error: the state is
 * multiplied by {@code move}, and noise of covariance {@code stir} is added. Both come from one
 * matrix exponential (C. F. Van Loan, Computing integrals involving the matrix exponential, IEEE
 * Trans. Automatic Control 23, 1978).
 *
 * @param size entries of the state
 * @param move exp(A h), by rows
 * @param stir covariance of the noise that the step brings, by rows
 */
record Discrete(int size, double[] move, double[] stir) {

  /**
   * The step of a model.
   *
   * @param drift A, square, 1/s
   * @param density spectral density of the noise, square, units of the state squared per second
   * @param seconds length of the step
   */
  static Discrete of(double[][] drift, double[][] density, double seconds) {
    int n = drift.length;
    double[][] block = new double[2 * n][2 * n];
    for (int i = 0; i < n; i++) {
      for (int j = 0; j < n; j++) {
        block[i][j] = -drift[i][j] * seconds;
        block[i][n + j] = density[i][j] * seconds;
        block[n + i][n + j] = drift[j][i] * seconds;
      }
    }
    RealMatrix all = MatrixUtils.matrixExponential(MatrixUtils.createRealMatrix(block));
    RealMatrix move = all.getSubMatrix(n, 2 * n - 1, n, 2 * n - 1).transpose();
    RealMatrix stir = move.multiply(all.getSubMatrix(0, n - 1, n, 2 * n - 1));
    return new Discrete(n, flat(move, false), flat(stir, true));
  }

  private static double[] flat(RealMatrix m, boolean symmetric) {
    int n = m.getRowDimension();
    double[] out = new double[n * n];
    for (int i = 0; i < n; i++) {
      for (int j = 0; j < n; j++) {
        double value = m.getEntry(i, j);
        out[i * n + j] = symmetric ? (value + m.getEntry(j, i)) / 2 : value;
      }
    }
    return out;
  }
}
