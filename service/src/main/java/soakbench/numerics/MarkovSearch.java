package soakbench.numerics;

import java.util.Arrays;

/**
 * Finds how strong a Gauss-Markov drift there is beside the white noise of readings about a model,
 * and whether the readings drift or the surroundings, by restricted likelihood (Patterson and
 * Thompson, Biometrika 58, 1971) over a grid.
 */
final class MarkovSearch {
  private static final double LEAST_RATIO = 1e-2;
  private static final double RATIO_STEP = 4;
  private static final int RATIOS = 14;
  private static final double[] READINGS_S = {20, 60, 180};
  private static final double[] SURROUNDINGS_S = {120, 361, 1083, 3249};

  private MarkovSearch() {}

  /**
   * The noise that the readings prefer.
   *
   * @param t times, s, ascending
   * @param weight of each reading
   * @param bodyS time constant with which surroundings are followed, s
   * @param columns the model's derivatives by its parameters, one array each
   * @param residuals readings minus model
   */
  static MarkovNoise of(
      double[] t, double[] weight, double bodyS, double[][] columns, double[] residuals) {
    Best best = new Best(columns, residuals);
    best.offer(MarkovNoise.white(t, weight));
    double ratio = LEAST_RATIO;
    for (int i = 0; i < RATIOS; i++) {
      for (double lengthS : READINGS_S) {
        best.offer(MarkovNoise.of(t, weight, ratio, lengthS, 0));
      }
      for (double lengthS : SURROUNDINGS_S) {
        double length = lengthS == bodyS ? lengthS * 1.01 : lengthS;
        best.offer(MarkovNoise.of(t, weight, ratio, length, bodyS));
      }
      ratio *= RATIO_STEP;
    }
    return best.noise;
  }

  private static final class Best {
    /** The residuals last: all are whitened side by side. */
    private final double[][] all;

    private MarkovNoise noise;
    private double least = Double.POSITIVE_INFINITY;

    Best(double[][] columns, double[] residuals) {
      this.all = Arrays.copyOf(columns, columns.length + 1);
      all[columns.length] = residuals;
    }

    /** Minus twice the restricted log-likelihood, the white variance profiled out. */
    void offer(MarkovNoise tried) {
      double[][] white = tried.whitened(all);
      int columns = all.length - 1;
      Projection fit = Projection.of(Arrays.copyOf(white, columns), white[columns]);
      int df = white[columns].length - columns;
      double criterion = df * Math.log(fit.rss() / df) + tried.logDeterminant() + fit.logGram();
      if (noise == null || criterion < least) {
        least = criterion;
        noise = tried;
      }
    }
  }
}
