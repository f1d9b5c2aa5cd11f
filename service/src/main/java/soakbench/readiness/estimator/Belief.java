package soakbench.readiness.estimator;

import java.io.Serializable;
import java.util.Arrays;

/**
 * What is known of a state: its mean and covariance, carried on by a linear model and corrected by
 * one number at a time (R. E. Kalman, A new approach to linear filtering and prediction problems,
 * J. Basic Eng. 82, 1960). Plain arrays, by rows; not thread-safe.
 */
final class Belief implements Serializable {
  private static final double LOG_2_PI = Math.log(2 * Math.PI);

  /**
   * A plain sum of four entries, as a thermometer or a gyro reads it: asked for so often that zeros
   * are not to be gone through.
   *
   * @param a the first of them; the others follow in order
   */
  record Sum(int a, int b, int c, int d) {}

  private final int n;
  private final double[] mean;
  private final double[] cov;
  private final transient double[] with;
  private final transient double[] before;
  private final transient double[] carried;

  /**
   * Independent entries.
   *
   * @param mean of each
   * @param sd standard deviation of each
   */
  Belief(double[] mean, double[] sd) {
    this(mean.length, mean.clone(), new double[mean.length * mean.length]);
    for (int i = 0; i < n; i++) {
      cov[i * n + i] = sd[i] * sd[i];
    }
  }

  private Belief(int n, double[] mean, double[] cov) {
    this.n = n;
    this.mean = mean;
    this.cov = cov;
    this.with = new double[n];
    this.before = new double[n];
    this.carried = new double[n * n];
  }

  Belief copy() {
    return new Belief(n, mean.clone(), cov.clone());
  }

  /** What it only works with is not kept. */
  private Object readResolve() {
    return new Belief(n, mean, cov);
  }

  int size() {
    return n;
  }

  double mean(int i) {
    return mean[i];
  }

  void setMean(int i, double value) {
    mean[i] = value;
  }

  double cov(int i, int j) {
    return cov[i * n + j];
  }

  /** Makes two entries go together. */
  void addCov(int i, int j, double value) {
    cov[i * n + j] += value;
    if (i != j) {
      cov[j * n + i] += value;
    }
  }

  /** Adds to the variance of one entry: something unforeseen may have moved it. */
  void widen(int i, double sd) {
    cov[i * n + i] += sd * sd;
  }

  /** Carries the first entries on by a step of a linear model; the others stay. */
  void predict(Discrete step) {
    moveMean(step.size(), step.move());
    carry(step.size(), step.move(), step.stir());
  }

  /** The means, not to be changed in length: a model that is not linear moves them itself. */
  double[] means() {
    return mean;
  }

  /** The covariance by rows, not to be changed in length: likewise. */
  double[] covariance() {
    return cov;
  }

  private void carry(int lead, double[] move, double[] stir) {
    for (int i = 0; i < lead; i++) {
      Arrays.fill(carried, i * n, (i + 1) * n, 0);
      for (int k = 0; k < lead; k++) {
        double part = move[i * lead + k];
        for (int j = 0; j < n; j++) {
          carried[i * n + j] += part * cov[k * n + j];
        }
      }
    }
    for (int i = 0; i < lead; i++) {
      for (int j = i; j < lead; j++) {
        put(i, j, stir[i * lead + j] + dot(move, j * lead, carried, i * n, lead));
      }
      for (int j = lead; j < n; j++) {
        put(i, j, carried[i * n + j]);
      }
    }
  }

  private void put(int i, int j, double value) {
    cov[i * n + j] = value;
    cov[j * n + i] = value;
  }

  private void moveMean(int lead, double[] move) {
    System.arraycopy(mean, 0, before, 0, lead);
    for (int i = 0; i < lead; i++) {
      mean[i] = dot(move, i * lead, before, 0, lead);
    }
  }

  private static double dot(double[] a, int fromA, double[] b, int fromB, int count) {
    double sum = 0;
    for (int k = 0; k < count; k++) {
      sum += a[fromA + k] * b[fromB + k];
    }
    return sum;
  }

  /** Lets one entry die away towards zero. */
  void decay(int i, double left, double stirVariance) {
    mean[i] *= left;
    for (int j = 0; j < n; j++) {
      cov[i * n + j] *= left;
      cov[j * n + i] *= left;
    }
    cov[i * n + i] += stirVariance;
  }

  /** Adds a part of one entry to another. */
  void shear(int to, int from, double part) {
    mean[to] += part * mean[from];
    for (int j = 0; j < n; j++) {
      cov[to * n + j] += part * cov[from * n + j];
    }
    for (int j = 0; j < n; j++) {
      cov[j * n + to] += part * cov[j * n + from];
    }
  }

  /** Mean of a sum of entries. */
  double meanOf(double[] row) {
    return dot(row, 0, mean, 0, n);
  }

  /** Variance of a sum of entries; keeps the covariance of all entries with it. */
  double varianceOf(double[] row) {
    Arrays.fill(with, 0);
    for (int i = 0; i < n; i++) {
      if (row[i] != 0) {
        addTo(with, row[i], i);
      }
    }
    return dot(row, 0, with, 0, n);
  }

  /** Mean of the plain sum of four entries. */
  double meanOf(Sum sum) {
    return mean[sum.a()] + mean[sum.b()] + mean[sum.c()] + mean[sum.d()];
  }

  /** Its variance; keeps the covariance of all entries with it. */
  double varianceOf(Sum sum) {
    double[] to = with;
    double[] from = cov;
    int a = sum.a() * n;
    int b = sum.b() * n;
    int c = sum.c() * n;
    int d = sum.d() * n;
    for (int j = 0; j < to.length; j++) {
      to[j] = from[a + j] + from[b + j] + from[c + j] + from[d + j];
    }
    return to[sum.a()] + to[sum.b()] + to[sum.c()] + to[sum.d()];
  }

  private void addTo(double[] sums, double part, int i) {
    int from = i * n;
    for (int j = 0; j < n; j++) {
      sums[j] += part * cov[from + j];
    }
  }

  /** Covariance of an entry with the sum whose variance was last asked for. */
  double withOf(int i) {
    return with[i];
  }

  /**
   * Corrects all entries by a reading of a sum of them.
   *
   * @param row the sum's parts
   * @param error the reading less what was expected of it
   * @param noiseVariance of the reading
   * @return the logarithm of how likely the reading was
   */
  double update(double[] row, double error, double noiseVariance) {
    return corrected(error, varianceOf(row) + noiseVariance);
  }

  /** The same by a reading of a plain sum. */
  double update(Sum sum, double error, double noiseVariance) {
    return corrected(error, varianceOf(sum) + noiseVariance);
  }

  private double corrected(double error, double variance) {
    correct(error / variance, 1 / variance);
    return -0.5 * (LOG_2_PI + Math.log(variance) + error * error / variance);
  }

  /**
   * Takes a reading of a sum that is as expected: what is known gets narrower, nothing else.
   *
   * @return by how much each entry would have moved for a reading one standard deviation off
   */
  double[] confirm(double[] row, double noiseVariance) {
    return confirmed(varianceOf(row) + noiseVariance);
  }

  /** The same by a reading of a plain sum. */
  double[] confirm(Sum sum, double noiseVariance) {
    return confirmed(varianceOf(sum) + noiseVariance);
  }

  private double[] confirmed(double variance) {
    double[] gain = new double[n];
    for (int i = 0; i < n; i++) {
      gain[i] = with[i] / Math.sqrt(variance);
    }
    correct(0, 1 / variance);
    return gain;
  }

  /**
   * Corrects by the knowledge that a plain sum of entries lies between two bounds: the mean and the
   * variance of the cut distribution are kept (assumed-density filtering, T. P. Minka, Expectation
   * propagation for approximate Bayesian inference, UAI 2001).
   *
   * @param low lower bound less what was expected
   * @param high upper bound less what was expected
   * @param softSd standard deviation of either bound
   * @return the logarithm of how likely that was
   */
  double updateWithin(Sum sum, double low, double high, double softSd) {
    double variance = varianceOf(sum) + softSd * softSd;
    double sd = Math.sqrt(variance);
    CutNormal cut = CutNormal.between(low / sd, high / sd);
    correct(cut.mean() / sd, (1 - cut.variance()) / variance);
    return cut.logShare();
  }

  /** By the covariance with the sum that was last asked for. */
  private void correct(double shift, double narrowing) {
    double[] of = with;
    double[] all = cov;
    int at = 0;
    for (int i = 0; i < of.length; i++) {
      mean[i] += of[i] * shift;
      double part = of[i] * narrowing;
      for (double one : of) {
        all[at] -= part * one;
        at++;
      }
    }
  }
}
