package soakbench.numerics;

/**
 * Noise of readings about a model: white noise plus a first-order Gauss-Markov process, either of
 * the readings or of the surroundings that a body follows with its own time constant. It makes
 * readings independent by the innovations of a Kalman filter, which is linear and costs one pass,
 * also where readings are unevenly spaced (A. C. Harvey, Forecasting, Structural Time Series Models
 * and the Kalman Filter, 1989, 3.4). Immutable.
 *
 * <p>All variances are relative to the white variance of a reading of weight 1.
 */
public final class MarkovNoise {
  // Of each step: how the Markov process and the body go on, and what a reading then corrects.
  private final double[] markovDecay;
  private final double[] bodyDecay;
  private final double[] fromMarkov;
  private final double[] markovGain;
  private final double[] bodyGain;
  private final double[] scale;
  private final double lengthS;
  private double logDeterminant;

  private MarkovNoise(int n, double lengthS) {
    markovDecay = new double[n];
    bodyDecay = new double[n];
    fromMarkov = new double[n];
    markovGain = new double[n];
    bodyGain = new double[n];
    scale = new double[n];
    this.lengthS = lengthS;
  }

  /** White noise alone; a reading of weight w has the variance 1/w. */
  public static MarkovNoise white(double[] t, double[] weight) {
    MarkovNoise noise = new MarkovNoise(t.length, 0);
    for (int i = 0; i < t.length; i++) {
      noise.scale[i] = Math.sqrt(1 / weight[i]);
      noise.logDeterminant -= Math.log(weight[i]);
    }
    return noise;
  }

  /**
   * White noise and a Gauss-Markov process.
   *
   * @param t times, s, ascending
   * @param weight of each reading, positive; its white variance is 1/weight
   * @param variance of the process, stationary, not negative
   * @param lengthS correlation time of the process, s, positive
   * @param bodyS time constant with which the body follows them, s, positive, another; 0 where the
   *     readings themselves drift
   */
  public static MarkovNoise of(
      double[] t, double[] weight, double variance, double lengthS, double bodyS) {
    MarkovNoise noise = new MarkovNoise(t.length, lengthS);
    double share = lengthS / (lengthS + bodyS);
    // Stationary covariance of (surroundings, body), and what is known of them at each reading.
    double stillW = variance;
    double stillB = variance * share;
    double knownW = stillW;
    double knownB = stillB;
    double knownWb = stillB;
    double before = Double.POSITIVE_INFINITY;
    double a = 0;
    double b = 0;
    double c = 0;
    for (int i = 0; i < t.length; i++) {
      double dt = i == 0 ? Double.POSITIVE_INFINITY : t[i] - t[i - 1];
      if (dt != before) {
        a = Math.exp(-dt / lengthS);
        b = bodyS == 0 ? 0 : Math.exp(-dt / bodyS);
        c = bodyS == 0 ? a : lengthS / (lengthS - bodyS) * (a - b);
        before = dt;
      }
      double w = stillW + a * a * (knownW - stillW);
      double wb = stillB + a * (c * (knownW - stillW) + b * (knownWb - stillB));
      double body =
          stillB
              + c * c * (knownW - stillW)
              + 2 * b * c * (knownWb - stillB)
              + b * b * (knownB - stillB);
      double innovation = body + 1 / weight[i];
      noise.set(i, a, b, c, wb / innovation, body / innovation, Math.sqrt(innovation));
      knownW = w - wb * wb / innovation;
      knownWb = wb - wb * body / innovation;
      knownB = body - body * body / innovation;
    }
    return noise;
  }

  private void set(int i, double a, double b, double c, double gainW, double gainB, double sd) {
    markovDecay[i] = a;
    bodyDecay[i] = b;
    fromMarkov[i] = c;
    markovGain[i] = gainW;
    bodyGain[i] = gainB;
    scale[i] = sd;
    logDeterminant += 2 * Math.log(sd);
  }

  /** The column as independent entries of variance 1 where it was noise of this kind. */
  public double[] whitened(double[] column) {
    return whitened(new double[][] {column})[0];
  }

  /** All columns side by side, because one would wait for itself. */
  double[][] whitened(double[][] columns) {
    int count = columns.length;
    if (lengthS == 0) {
      return scaled(columns);
    }
    double[][] out = new double[count][scale.length];
    double[] markov = new double[count];
    double[] body = new double[count];
    for (int i = 0; i < scale.length; i++) {
      for (int j = 0; j < count; j++) {
        double carried = bodyDecay[i] * body[j] + fromMarkov[i] * markov[j];
        double innovation = columns[j][i] - carried;
        out[j][i] = innovation / scale[i];
        markov[j] = markovDecay[i] * markov[j] + markovGain[i] * innovation;
        body[j] = carried + bodyGain[i] * innovation;
      }
    }
    return out;
  }

  private double[][] scaled(double[][] columns) {
    double[][] out = new double[columns.length][scale.length];
    for (int j = 0; j < out.length; j++) {
      for (int i = 0; i < scale.length; i++) {
        out[j][i] = columns[j][i] / scale[i];
      }
    }
    return out;
  }

  /** Logarithm of the determinant of the covariance. */
  public double logDeterminant() {
    return logDeterminant;
  }

  /** Correlation time of the Gauss-Markov process, s; 0 where there is none. */
  public double lengthS() {
    return lengthS;
  }
}
