package soakbench.numerics;

import java.util.Arrays;

/**
 * Whether the level of a series shifts, block by block: auxiliary residuals of a regression whose
 * noise is white plus flicker (Harvey and Koopman, J. Business and Economic Statistics 10(4), 1992;
 * de Jong and Penzer, J. American Statistical Association 93, 1998). One Kalman filter forward and
 * one disturbance smoother backward give for every place what generalized least squares would say
 * of a shift there; so the cost grows with the number of blocks and no faster.
 *
 * @param logLikelihood of the series without any shift, up to a constant
 * @param shift score of a shift that falls into each block, what the block itself reads left out;
 *     over its variance the estimate of the shift
 * @param shiftVariance of it; the square of the score over it is chi-squared with one degree of
 *     freedom where nothing shifts. 0 where nothing can be said
 * @param pulse score of an error of each block alone
 * @param pulseVariance of it; 0 where the block is not used
 */
public record LevelShifts(
    double logLikelihood,
    double[] shift,
    double[] shiftVariance,
    double[] pulse,
    double[] pulseVariance) {

  /** Squared z of a shift that falls into a block; 0 where nothing can be said. */
  public double shiftSquared(int block) {
    return squared(shift[block], shiftVariance[block]);
  }

  /** Squared z of an error of one block alone; 0 where it is not used. */
  public double pulseSquared(int block) {
    return squared(pulse[block], pulseVariance[block]);
  }

  private static double squared(double score, double variance) {
    return variance > 0 ? score * score / variance : 0;
  }

  /** The shift that falls into a block, in units of the series. */
  public double size(int block) {
    return shiftVariance[block] > 0 ? shift[block] / shiftVariance[block] : 0;
  }

  /**
   * What is looked at.
   *
   * @param midS middle of each block, s, ascending
   * @param widthS width of each block, s
   * @param columns one row for each block: what explains the series beside its level
   * @param priorSd standard deviation of each column's coefficient about zero
   * @param levelSd the same of a new level
   * @param fresh whether a block begins another level anyhow
   * @param used whether what a block reads counts
   * @param flicker what the blocks alone say of flicker noise, whatever its size
   */
  public record Series(
      double[] midS,
      double[] widthS,
      double[][] columns,
      double[] priorSd,
      double levelSd,
      boolean[] fresh,
      boolean[] used,
      Flicker flicker) {
    public Series(
        double[] midS,
        double[] widthS,
        double[][] columns,
        double[] priorSd,
        double levelSd,
        boolean[] fresh,
        boolean[] used) {
      this(midS, widthS, columns, priorSd, levelSd, fresh, used, Flicker.of(midS, widthS));
    }
  }

  /**
   * Looks at one series.
   *
   * @param y one value for each block, those not used of no meaning
   * @param whiteN white noise N, in units of the series times sqrt(s); positive
   * @param flickerB flicker noise B, in units of the series
   */
  public static LevelShifts of(Series series, double[] y, double whiteN, double flickerB) {
    return new Smoother(series, FlickerStates.of(series.flicker, flickerB), whiteN).shifts(y);
  }

  /**
   * The level, the coefficients and the flicker's processes as one state. The first two stay from
   * block to block. Matrices are symmetric: their lower halves, row by row.
   */
  private static final class Smoother {
    private final Series series;
    private final FlickerStates flicker;
    private final double whiteN;
    private final int blocks;

    /** Entries that stay; the flicker's come after them. */
    private final int lasting;

    private final int size;
    private final double[] row;
    private final double[][] gain;
    private final double[] innovation;
    private final double[] variance;

    Smoother(Series series, FlickerStates flicker, double whiteN) {
      this.series = series;
      this.flicker = flicker;
      this.whiteN = whiteN;
      blocks = series.midS.length;
      lasting = 1 + series.priorSd.length;
      size = lasting + flicker.count();
      row = new double[size];
      gain = new double[blocks][];
      innovation = new double[blocks];
      variance = new double[blocks];
    }

    LevelShifts shifts(double[] y) {
      return backward(forward(y));
    }

    /** What a block reads of the state; good until the next is asked for. */
    private double[] row(int block) {
      row[0] = 1;
      System.arraycopy(series.columns[block], 0, row, 1, lasting - 1);
      System.arraycopy(flicker.sd()[block], 0, row, lasting, flicker.count());
      return row;
    }

    /** Kalman filter; returns the log likelihood. */
    private double forward(double[] y) {
      double[] state = new double[size];
      double[] p = new double[at(size)];
      p[0] = series.levelSd * series.levelSd;
      for (int i = 1; i < size; i++) {
        double sd = i < lasting ? series.priorSd[i - 1] : 1;
        p[at(i) + i] = sd * sd;
      }
      double likelihood = 0;
      for (int t = 0; t < blocks; t++) {
        if (t > 0) {
          predict(state, p, flicker.kept()[t]);
          p[0] += series.fresh[t] ? series.levelSd * series.levelSd : 0;
        }
        likelihood += series.used[t] ? update(t, y[t], state, p) : 0;
      }
      return likelihood;
    }

    /** Where a row begins. */
    private static int at(int row) {
      return row * (row + 1) / 2;
    }

    private void predict(double[] state, double[] p, double[] kept) {
      keep(state, p, kept);
      for (int k = 0; k < kept.length; k++) {
        p[at(lasting + k + 1) - 1] += 1 - kept[k] * kept[k];
      }
    }

    /** What is kept of the flicker from a block to its neighbour, and of what goes with it. */
    private void keep(double[] vector, double[] matrix, double[] kept) {
      int at = at(lasting);
      for (int k = 0; k < kept.length; k++) {
        vector[lasting + k] *= kept[k];
        for (int j = 0; j < lasting; j++) {
          matrix[at++] *= kept[k];
        }
        for (int j = 0; j <= k; j++) {
          matrix[at++] *= kept[k] * kept[j];
        }
      }
    }

    private double update(int t, double y, double[] state, double[] p) {
      double[] h = row(t);
      double[] k = product(p, h);
      double f = dot(h, k) + whiteN * whiteN / series.widthS[t] + flicker.whiteVariance()[t];
      double v = y - dot(h, state);
      int at = 0;
      for (int i = 0; i < size; i++) {
        k[i] /= f;
        state[i] += k[i] * v;
        for (int j = 0; j <= i; j++) {
          p[at++] -= k[i] * k[j] * f;
        }
      }
      gain[t] = k;
      innovation[t] = v;
      variance[t] = f;
      return -0.5 * (Math.log(f) + v * v / f);
    }

    /** Disturbance smoother: what all later blocks say of each state, and its variance. */
    private LevelShifts backward(double logLikelihood) {
      double[][] out = new double[4][blocks];
      double[] r = new double[size];
      double[] n = new double[at(size)];
      for (int t = blocks - 1; t >= 0; t--) {
        if (t + 1 < blocks) {
          keep(r, n, flicker.kept()[t + 1]);
        }
        out[0][t] = r[0];
        out[1][t] = n[0];
        if (series.used[t]) {
          take(t, r, n, out);
        }
      }
      return new LevelShifts(logLikelihood, out[0], out[1], out[2], out[3]);
    }

    private void take(int t, double[] r, double[] n, double[][] out) {
      double[] h = row(t);
      double[] q = product(n, gain[t]);
      double u = innovation[t] / variance[t] - dot(gain[t], r);
      double d = 1 / variance[t] + dot(gain[t], q);
      out[0][t] += q[0] / d * u;
      out[1][t] -= q[0] * q[0] / d;
      out[2][t] = u;
      out[3][t] = d;
      int at = 0;
      for (int i = 0; i < size; i++) {
        r[i] += h[i] * u;
        for (int j = 0; j <= i; j++) {
          n[at++] += h[i] * h[j] * d - h[i] * q[j] - q[i] * h[j];
        }
      }
    }

    private static double[] product(double[] m, double[] x) {
      double[] out = new double[x.length];
      int at = 0;
      for (int i = 0; i < x.length; i++) {
        double sum = 0;
        for (int j = 0; j < i; j++) {
          double both = m[at++];
          sum += both * x[j];
          out[j] += both * x[i];
        }
        out[i] = sum + m[at++] * x[i];
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
  }

  /**
   * Flicker noise of block means as processes of a filter: the sum of {@link ColouredNoise}, each
   * process carried from one block to the next by the correlation that the two means have. Those
   * much quicker than a block are white to it.
   *
   * @param share variance of each block's mean, one entry for each process of variance 1
   * @param kept of each process since the block before, 0 to 1
   * @param quickShare the same as the first of each process that is white to the blocks, one row
   *     for each
   */
  record Flicker(double[][] share, double[][] kept, double[][] quickShare) {
    private static final double RATIO = 4;
    private static final double FASTEST_S = 2;

    /** A process of so much of a block's width is white to the block. */
    private static final double QUICK = 0.5;

    static Flicker of(double[] midS, double[] widthS) {
      int n = midS.length;
      double slowestS = 4 * Math.max(60, n == 0 ? 0 : midS[n - 1] - midS[0]);
      double quickS = QUICK * Arrays.stream(widthS).max().orElse(1);
      int quickCount = 0;
      double tau = FASTEST_S;
      for (; tau < quickS; tau *= RATIO) {
        quickCount++;
      }
      int count = 0;
      for (double t = tau; t <= slowestS * RATIO; t *= RATIO) {
        count++;
      }
      double[][] quick = new double[quickCount][n];
      double[][] share = new double[n][count];
      double[][] kept = new double[n][count];
      for (int i = 0; i < n; i++) {
        double tauS = FASTEST_S;
        for (int k = 0; k < quickCount; k++, tauS *= RATIO) {
          quick[k][i] = ofMean(widthS[i], tauS);
        }
        for (int k = 0; k < count; k++, tauS *= RATIO) {
          share[i][k] = ofMean(widthS[i], tauS);
          kept[i][k] = i == 0 ? 0 : correlation(midS, widthS, i, tauS);
        }
      }
      return new Flicker(share, kept, quick);
    }

    /** Variance of a block's mean of a process with variance 1. */
    private static double ofMean(double widthS, double tauS) {
      double h = widthS / (2 * tauS);
      return (2 * h - 1 + Math.exp(-2 * h)) / (2 * h * h);
    }

    /** Of the means of a block and the one before it. */
    private static double correlation(double[] midS, double[] widthS, int i, double tauS) {
      double a = widthS[i - 1] / (2 * tauS);
      double b = widthS[i] / (2 * tauS);
      double apart = (midS[i] - midS[i - 1]) / tauS - a - b;
      double together = Math.expm1(-2 * a) * Math.expm1(-2 * b) / (4 * a * b) * Math.exp(-apart);
      double alone = ofMean(widthS[i - 1], tauS) * ofMean(widthS[i], tauS);
      return Math.min(1, together / Math.sqrt(alone));
    }
  }

  /**
   * Flicker of one size.
   *
   * @param sd of each block's mean, one entry for each process
   * @param kept of each process since the block before, 0 to 1
   * @param whiteVariance what the quick ones add to each block
   */
  private record FlickerStates(double[][] sd, double[][] kept, double[] whiteVariance) {

    static FlickerStates of(Flicker flicker, double flickerB) {
      double variance = flickerB * flickerB * Math.log(Flicker.RATIO) / Math.PI;
      int n = flicker.share.length;
      double[] white = new double[n];
      for (double[] quick : flicker.quickShare) {
        for (int i = 0; i < n; i++) {
          white[i] += variance * quick[i];
        }
      }
      double[][] sd = new double[n][];
      for (int i = 0; i < n; i++) {
        sd[i] = Arrays.stream(flicker.share[i]).map(s -> Math.sqrt(variance * s)).toArray();
      }
      return new FlickerStates(sd, flicker.kept, white);
    }

    int count() {
      return sd.length == 0 ? 0 : sd[0].length;
    }
  }
}
