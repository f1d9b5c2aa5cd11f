package soakbench.drift.correction;

import java.io.Serializable;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import soakbench.drift.still.BiasBlocks;
import soakbench.numerics.Cholesky;
import soakbench.numerics.HighPassedNoise;

/**
 * One hypothesis of how still rates of one run come about: as measured (offset, temperature curve,
 * white and flicker noise), or the same with a low-pass of given time constant taken off, which
 * leaves no offset but what dies away. Answers the restricted likelihood (Patterson and Thompson
 * 1971) of a run of block means, noise level and curve left free.
 */
final class HighPassHypothesis implements Serializable {
  /** Longest run, blocks. */
  static final int MOST = 60;

  /** Shortest run that is judged, blocks. */
  static final int LEAST = 6;

  /**
   * Allan floor of the flicker over the white noise of one block. One ratio for all units: trying
   * five found fewer corrected ones (docs/methods.md, corrected inside seen).
   */
  private static final double FLICKER_RATIO = 1;

  private static final double FLOOR = 0.664;
  private static final double LEAST_SPAN_C = 0.3;
  private static final double CURVED_SPAN_C = 2;

  private static final Map<Double, HighPassHypothesis> KNOWN = new ConcurrentHashMap<>();

  private final double lowPassS;
  private final transient double decay;
  private final transient Cholesky factor;
  private final transient double[] whiteLevel;

  /**
   * @param lowPassS time constant, s; infinite for rates as measured
   */
  HighPassHypothesis(double lowPassS) {
    this.lowPassS = lowPassS;
    this.decay = Math.exp(-BiasBlocks.BLOCK_S / lowPassS);
    double flicker = FLICKER_RATIO / FLOOR / Math.sqrt(BiasBlocks.BLOCK_S);
    factor =
        Cholesky.ofToeplitz(
            HighPassedNoise.autocovariance(MOST, BiasBlocks.BLOCK_S, 1, flicker, lowPassS));
    whiteLevel = factor.whitened(level(MOST));
  }

  /** The one of this time constant, the same for all trackers. */
  static HighPassHypothesis of(double lowPassS) {
    return KNOWN.computeIfAbsent(lowPassS, HighPassHypothesis::new);
  }

  private Object readResolve() {
    return of(lowPassS);
  }

  /** A run of this hypothesis, without blocks yet. */
  Run run() {
    return new Run();
  }

  /**
   * The rates of one run, made independent block by block: what a block adds does not change those
   * before it. Not thread-safe.
   */
  final class Run implements Serializable {
    private final double[][] white = new double[3][MOST];
    private int size;

    /** Takes the next block's rates, deg/s, x y z. */
    void add(double[] biasDps) {
      for (int axis = 0; axis < 3; axis++) {
        white[axis][size] = factor.next(white[axis], size, biasDps[axis]);
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
      double[][] explaining = whitened(columns);
      Cholesky gram = gram(explaining);
      double plain = gram(columns).logDeterminant();
      double shape = factor.logDeterminant(size) + gram.logDeterminant() - plain;
      int free = size - columns.length;
      double sum = 0;
      for (int axis : axes) {
        double rss = residual(explaining, gram, Arrays.copyOf(white[axis], size));
        sum -= 0.5 * (free * Math.log(rss) + shape);
      }
      return sum;
    }
  }

  private double[][] columns(double[] c) {
    double low = Arrays.stream(c).min().orElse(0);
    double high = Arrays.stream(c).max().orElse(0);
    int powers = high - low > CURVED_SPAN_C ? 2 : high - low > LEAST_SPAN_C ? 1 : 0;
    double[][] columns = new double[1 + powers][];
    columns[0] = level(c.length);
    for (int power = 1; power <= powers; power++) {
      columns[power] = followed(c, (low + high) / 2, power);
    }
    return columns;
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
    boolean raw = Double.isInfinite(lowPassS);
    double before = Math.pow(c[0] - middle, power);
    out[0] = raw ? before : 0;
    for (int i = 1; i < c.length; i++) {
      double now = Math.pow(c[i] - middle, power);
      double passed = lowPassS * (1 - decay) / BiasBlocks.BLOCK_S;
      out[i] = raw ? now : decay * out[i - 1] + (now - before) * passed;
      before = now;
    }
    return out;
  }

  private double[][] whitened(double[][] columns) {
    double[][] out = new double[columns.length][];
    out[0] = Arrays.copyOf(whiteLevel, columns[0].length);
    for (int k = 1; k < columns.length; k++) {
      out[k] = factor.whitened(columns[k]);
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
