package soakbench.numerics;

import java.util.List;
import org.hipparchus.distribution.continuous.NormalDistribution;

/**
 * Finds outlying blocks: what a block reads is compared with what all the others predict of it
 * (deletion residuals of generalized least squares; Cook and Weisberg, Residuals and Influence in
 * Regression, 1982), the worst is dropped and the rest looked at again.
 */
public final class BlockOutliers {
  /** Chance that a good record loses a block. */
  private static final double FALSE_ALARM = 0.002;

  private static final double MOST_DROPPED = 0.15;

  private BlockOutliers() {}

  /**
   * Which blocks to keep.
   *
   * @param design what explains the blocks
   * @param y for each axis one value for each block
   * @param fits of all axes to all blocks
   * @return one entry for each block: whether it belongs
   */
  public static boolean[] kept(
      RegressionDesign design, double[][] y, List<ColouredRegression> fits) {
    int n = design.rows();
    boolean[] kept = new boolean[n];
    java.util.Arrays.fill(kept, true);
    double[][][] p = new double[y.length][][];
    for (int axis = 0; axis < y.length; axis++) {
      p[axis] = projection(design, fits.get(axis).likeliest());
    }
    double limit =
        new NormalDistribution()
            .inverseCumulativeProbability(1 - FALSE_ALARM / (2.0 * n * y.length));
    for (int dropped = 0; dropped < MOST_DROPPED * n; dropped++) {
      int worst = worst(p, y, kept, limit);
      if (worst < 0) {
        break;
      }
      kept[worst] = false;
      for (double[][] axis : p) {
        drop(axis, worst);
      }
    }
    return kept;
  }

  private static int worst(double[][][] p, double[][] y, boolean[] kept, double limit) {
    int worst = -1;
    double most = limit;
    for (int axis = 0; axis < y.length; axis++) {
      for (int i = 0; i < kept.length; i++) {
        // A block that alone determines an unknown has nothing that predicts it.
        if (kept[i] && p[axis][i][i] > 1e-9 * p[axis][0][0]) {
          double e = 0;
          for (int j = 0; j < kept.length; j++) {
            e += p[axis][i][j] * y[axis][j];
          }
          double size = Math.abs(e) / Math.sqrt(p[axis][i][i]);
          if (size > most) {
            most = size;
            worst = i;
          }
        }
      }
    }
    return worst;
  }

  /** V^-1 - V^-1 X (X' V^-1 X + S^-1)^-1 X' V^-1, with S the prior covariance of the unknowns. */
  private static double[][] projection(RegressionDesign design, ColouredRegression.Component c) {
    double white = c.whiteN();
    double flicker = c.ratio() * white;
    double[][] p =
        Cholesky.of(ColouredNoise.covariance(design.midS(), design.widthS(), white, flicker))
            .inverse();
    double[][] vx = product(p, design.columns());
    double[][] gram = new double[design.unknowns()][design.unknowns()];
    for (int a = 0; a < gram.length; a++) {
      for (int b = 0; b < gram.length; b++) {
        for (int i = 0; i < vx.length; i++) {
          gram[a][b] += design.columns()[i][a] * vx[i][b];
        }
      }
      gram[a][a] += 1 / (design.priorSd()[a] * design.priorSd()[a]);
    }
    double[][] left = product(vx, Cholesky.of(gram).inverse());
    for (int i = 0; i < p.length; i++) {
      for (int j = 0; j < p.length; j++) {
        for (int a = 0; a < gram.length; a++) {
          p[i][j] -= left[i][a] * vx[j][a];
        }
      }
    }
    return p;
  }

  private static double[][] product(double[][] a, double[][] b) {
    double[][] out = new double[a.length][b[0].length];
    for (int i = 0; i < a.length; i++) {
      for (int k = 0; k < b.length; k++) {
        for (int j = 0; j < out[i].length; j++) {
          out[i][j] += a[i][k] * b[k][j];
        }
      }
    }
    return out;
  }

  /** Takes one row and column out, as if the block had never been. */
  private static void drop(double[][] p, int row) {
    double[] gone = p[row].clone();
    double pivot = gone[row];
    for (int i = 0; i < p.length; i++) {
      double f = gone[i] / pivot;
      for (int j = 0; j < p.length; j++) {
        p[i][j] -= f * gone[j];
      }
    }
  }
}
