package soakbench.drift.correction;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import soakbench.drift.still.BiasBlocks;
import soakbench.numerics.Cholesky;
import soakbench.numerics.FollowedNoise;

/**
 * One hypothesis of how still rates of one run come about: as measured (offset, temperature curve,
 * white and flicker noise), or the same with a low-pass of given time constant taken off, which
 * leaves no offset but what dies away. Answers the restricted likelihood (Patterson and Thompson
 * 1971) of a run of block means, noise level and curve left free.
 */
final class Follower {
  /** Longest run, blocks. */
  static final int MOST = 60;

  /** Shortest run that says anything, blocks. */
  static final int LEAST = 6;

  /** Allan floor of the flicker over the white noise of one block. */
  private static final double[] FLICKER_RATIOS = {0, 0.5, 1, 2, 4};

  private static final double FLOOR = 0.664;
  private static final double LEAST_SPAN_C = 0.3;
  private static final double CURVED_SPAN_C = 2;

  private final double followS;
  private final double decay;
  private final Cholesky[] factors = new Cholesky[FLICKER_RATIOS.length];
  private final double[][] whiteLevels = new double[FLICKER_RATIOS.length][];

  /**
   * @param followS time constant, s; infinite for rates as measured
   */
  Follower(double followS) {
    this.followS = followS;
    this.decay = Math.exp(-BiasBlocks.BLOCK_S / followS);
    for (int g = 0; g < factors.length; g++) {
      double flicker = FLICKER_RATIOS[g] / FLOOR / Math.sqrt(BiasBlocks.BLOCK_S);
      factors[g] =
          Cholesky.ofToeplitz(
              FollowedNoise.autocovariance(MOST, BiasBlocks.BLOCK_S, 1, flicker, followS));
      whiteLevels[g] = factors[g].whitened(level(MOST));
    }
  }

  /** A run of this hypothesis, without blocks yet. */
  Run run() {
    return new Run();
  }

  /**
   * The rates of one run, made independent block by block: what a block adds does not change those
   * before it. Not thread-safe.
   */
  final class Run {
    private final double[][][] white = new double[FLICKER_RATIOS.length][3][MOST];
    private int size;

    /** Takes the next block's rates, deg/s, x y z. */
    void add(double[] biasDps) {
      for (int g = 0; g < factors.length; g++) {
        for (int axis = 0; axis < 3; axis++) {
          double[] z = white[g][axis];
          z[size] = factors[g].next(z, size, biasDps[axis]);
        }
      }
      size++;
    }

    void clear() {
      size = 0;
    }

    /**
     * Logarithm of the restricted likelihood, up to a term that is the same for all hypotheses.
     *
     * @param temperatureC of each block
     * @param axes those that can be judged
     */
    double logLikelihood(double[] temperatureC, List<Integer> axes) {
      double[][] columns = columns(temperatureC);
      double[] best = new double[axes.size()];
      Arrays.fill(best, Double.NEGATIVE_INFINITY);
      double plain = gram(columns).logDeterminant();
      for (int g = 0; g < factors.length; g++) {
        double[][] explaining = whitened(g, columns);
        Cholesky gram = gram(explaining);
        double shape = factors[g].logDeterminant(size) + gram.logDeterminant() - plain;
        for (int k = 0; k < best.length; k++) {
          double[] rates = Arrays.copyOf(white[g][axes.get(k)], size);
          double rss = residual(explaining, gram, rates);
          int free = size - columns.length;
          best[k] = Math.max(best[k], -0.5 * (free * Math.log(rss) + shape));
        }
      }
      return Arrays.stream(best).sum();
    }
  }

  private double[][] columns(double[] c) {
    double low = Arrays.stream(c).min().orElse(0);
    double high = Arrays.stream(c).max().orElse(0);
    double middle = (low + high) / 2;
    List<double[]> columns = new ArrayList<>();
    columns.add(level(c.length));
    for (int power = 1; power <= (high - low > CURVED_SPAN_C ? 2 : 1); power++) {
      if (high - low > LEAST_SPAN_C) {
        columns.add(followed(c, middle, power));
      }
    }
    return columns.toArray(double[][]::new);
  }

  private double[] level(int n) {
    double[] level = new double[n];
    double value = 1;
    for (int i = 0; i < n; i++) {
      level[i] = value;
      value *= decay;
    }
    return level;
  }

  /** A power of the temperature with its own low-pass taken off; straight between the blocks. */
  private double[] followed(double[] c, double middle, int power) {
    double[] out = new double[c.length];
    boolean raw = Double.isInfinite(followS);
    double before = Math.pow(c[0] - middle, power);
    out[0] = raw ? before : 0;
    for (int i = 1; i < c.length; i++) {
      double now = Math.pow(c[i] - middle, power);
      double passed = followS * (1 - decay) / BiasBlocks.BLOCK_S;
      out[i] = raw ? now : decay * out[i - 1] + (now - before) * passed;
      before = now;
    }
    return out;
  }

  private double[][] whitened(int ratio, double[][] columns) {
    double[][] out = new double[columns.length][];
    out[0] = Arrays.copyOf(whiteLevels[ratio], columns[0].length);
    for (int k = 1; k < columns.length; k++) {
      out[k] = factors[ratio].whitened(columns[k]);
    }
    return out;
  }

  private static double dot(double[] a, double[] b) {
    double sum = 0;
    for (int i = 0; i < a.length; i++) {
      sum += a[i] * b[i];
    }
    return sum;
  }

  /** Factor of the columns' products; columns of one shape leave nothing of the later one. */
  private static Cholesky gram(double[][] columns) {
    int p = columns.length;
    double[][] products = new double[p][p];
    for (int i = 0; i < p; i++) {
      for (int j = 0; j <= i; j++) {
        products[i][j] = dot(columns[i], columns[j]);
      }
    }
    return Cholesky.ofDependent(products, 1e-10);
  }

  private static double residual(double[][] columns, Cholesky gram, double[] y) {
    double[] right = new double[columns.length];
    for (int k = 0; k < right.length; k++) {
      right[k] = dot(columns[k], y);
    }
    double[] z = gram.whitened(right);
    return Math.max(1e-9 * dot(y, y) + 1e-300, dot(y, y) - dot(z, z));
  }
}
