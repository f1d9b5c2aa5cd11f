package soakbench.readiness.estimator;

/** The lower root of a covariance, for drawing from it. An entry without variance gets none. */
final class Cholesky {
  private Cholesky() {}

  /**
   * @param belief whose covariance
   * @param entries which of its entries
   * @return the root, by rows
   */
  static double[] root(Belief belief, int[] entries) {
    int n = entries.length;
    double[] cov = new double[n * n];
    for (int i = 0; i < n; i++) {
      for (int j = 0; j < n; j++) {
        cov[i * n + j] = belief.cov(entries[i], entries[j]);
      }
    }
    return root(cov, n);
  }

  static double[] root(double[] cov, int n) {
    double[] out = new double[n * n];
    for (int j = 0; j < n; j++) {
      double left = cov[j * n + j];
      for (int k = 0; k < j; k++) {
        left -= out[j * n + k] * out[j * n + k];
      }
      double pivot = left > 1e-12 * cov[j * n + j] ? Math.sqrt(left) : 0;
      out[j * n + j] = pivot;
      for (int i = j + 1; i < n; i++) {
        double sum = cov[i * n + j];
        for (int k = 0; k < j; k++) {
          sum -= out[i * n + k] * out[j * n + k];
        }
        out[i * n + j] = pivot == 0 ? 0 : sum / pivot;
      }
    }
    return out;
  }

  /** The root times a row of independent standard normals. */
  static double part(double[] root, int n, int i, double[] z, int from) {
    double sum = 0;
    for (int k = 0; k <= i; k++) {
      sum += root[i * n + k] * z[from + k];
    }
    return sum;
  }
}
