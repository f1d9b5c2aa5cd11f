package soakbench.numerics.allan;

import java.util.List;
import org.hipparchus.exception.MathRuntimeException;
import org.hipparchus.linear.LUDecomposition;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;

/**
 * White noise, flicker and random walk that an Allan deviation is made of: variance N^2 / tau + (2
 * ln 2 / pi) B^2 + K^2 tau / 3 (IEEE Std 952's readings as one model), by the likelihood of
 * chi-squared variances with the points' equivalent degrees of freedom. None is negative: all sets
 * of them are tried, and the likeliest counts.
 *
 * @param parts N^2, B^2 and K^2, 0 where one is not there
 * @param covariance of the parts
 * @param logLikelihood up to a constant
 */
public record AllanFit(double[] parts, double[][] covariance, double logLikelihood) {
  /** Variance at the floor of flicker noise of B = 1: 0.664 squared. */
  public static final double FLOOR_SQUARED = 2 * Math.log(2) / Math.PI;

  private static final int ROUNDS = 60;
  private static final int ALL = 7;

  /** N, B and K as bits of a set. */
  public static final int WHITE = 1;

  public static final int FLICKER = 2;
  public static final int RANDOM_WALK = 4;

  /**
   * One variance to be explained.
   *
   * @param tauS averaging time, s
   * @param variance Allan variance, positive
   * @param degreesOfFreedom equivalent ones
   */
  public record Reading(double tauS, double variance, double degreesOfFreedom) {}

  /**
   * The likeliest of all sets.
   *
   * @param readings at least one
   */
  public static AllanFit of(List<Reading> readings) {
    return among(readings, ALL);
  }

  /** The likeliest set of those parts only. */
  public static AllanFit among(List<Reading> readings, int allowed) {
    AllanFit best = null;
    for (int set = 1; set <= ALL; set++) {
      if ((set & ~allowed) == 0 && Integer.bitCount(set) <= readings.size()) {
        AllanFit fit = with(readings, set);
        boolean better = fit != null && (best == null || fit.logLikelihood > best.logLikelihood);
        best = better ? fit : best;
      }
    }
    return best;
  }

  /** What one unit of a part makes of the variance. */
  static double shape(int part, double tauS) {
    return part == 0 ? 1 / tauS : part == 1 ? FLOOR_SQUARED : tauS / 3;
  }

  /** Variance of the model at an averaging time. */
  public double variance(double tauS) {
    double sum = 0;
    for (int part = 0; part < 3; part++) {
      sum += parts[part] * shape(part, tauS);
    }
    return sum;
  }

  /** Variance of {@link #variance}, by the covariance of the parts. */
  public double varianceOfVariance(double tauS) {
    double sum = 0;
    for (int i = 0; i < 3; i++) {
      for (int j = 0; j < 3; j++) {
        sum += covariance[i][j] * shape(i, tauS) * shape(j, tauS);
      }
    }
    return sum;
  }

  /** Share of one part (0 N, 1 B, 2 K) in the variance at an averaging time. */
  public double share(int part, double tauS) {
    return parts[part] * shape(part, tauS) / variance(tauS);
  }

  /** Fisher scoring; null where a part would be negative. */
  private static AllanFit with(List<Reading> readings, int set) {
    int[] part = java.util.stream.IntStream.range(0, 3).filter(p -> (set & 1 << p) != 0).toArray();
    double[] theta = new double[part.length];
    Reading first = readings.get(0);
    for (int i = 0; i < theta.length; i++) {
      theta[i] = first.variance / (part.length * shape(part[i], first.tauS));
    }
    try {
      RealMatrix inverse = null;
      for (int round = 0; round < ROUNDS; round++) {
        inverse = step(readings, part, theta);
      }
      for (double t : theta) {
        if (!(t > 0)) {
          return null;
        }
      }
      return assembled(readings, part, theta, inverse);
    } catch (MathRuntimeException notApart) {
      return null;
    }
  }

  /** One round of weighted least squares, weights by the model itself; returns the covariance. */
  private static RealMatrix step(List<Reading> readings, int[] part, double[] theta) {
    int n = part.length;
    double[][] information = new double[n][n];
    double[] right = new double[n];
    for (Reading r : readings) {
      double s = 0;
      for (int i = 0; i < n; i++) {
        s += theta[i] * shape(part[i], r.tauS);
      }
      double weight = r.degreesOfFreedom / (2 * s * s);
      for (int i = 0; i < n; i++) {
        double xi = shape(part[i], r.tauS);
        right[i] += weight * xi * r.variance;
        for (int j = 0; j < n; j++) {
          information[i][j] += weight * xi * shape(part[j], r.tauS);
        }
      }
    }
    return solve(information, right, theta);
  }

  /** Scaled to a diagonal of one, because the parts differ by many powers of ten. */
  private static RealMatrix solve(double[][] information, double[] right, double[] theta) {
    int n = theta.length;
    double[] scale = new double[n];
    for (int i = 0; i < n; i++) {
      scale[i] = 1 / Math.sqrt(information[i][i]);
    }
    for (int i = 0; i < n; i++) {
      right[i] *= scale[i];
      for (int j = 0; j < n; j++) {
        information[i][j] *= scale[i] * scale[j];
      }
    }
    RealMatrix inverse =
        new LUDecomposition(MatrixUtils.createRealMatrix(information)).getSolver().getInverse();
    double[] solved = inverse.operate(right);
    for (int i = 0; i < n; i++) {
      // A thousandth at least: at nothing the weights would be meaningless.
      theta[i] = Math.max(theta[i] * 1e-3, solved[i] * scale[i]);
      for (int j = 0; j < n; j++) {
        inverse.multiplyEntry(i, j, scale[i] * scale[j]);
      }
    }
    return inverse;
  }

  private static AllanFit assembled(
      List<Reading> readings, int[] part, double[] theta, RealMatrix inverse) {
    double[] parts = new double[3];
    double[][] covariance = new double[3][3];
    for (int i = 0; i < part.length; i++) {
      parts[part[i]] = theta[i];
      for (int j = 0; j < part.length; j++) {
        covariance[part[i]][part[j]] = inverse.getEntry(i, j);
      }
    }
    AllanFit fit = new AllanFit(parts, covariance, 0);
    double logL = 0;
    for (Reading r : readings) {
      double s = fit.variance(r.tauS);
      logL -= r.degreesOfFreedom / 2 * (Math.log(s) + r.variance / s);
    }
    return new AllanFit(parts, covariance, logL);
  }
}
