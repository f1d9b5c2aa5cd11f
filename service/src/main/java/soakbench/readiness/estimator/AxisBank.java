package soakbench.readiness.estimator;

import java.io.Serializable;
import java.util.Arrays;

/**
 * One axis where the thermometer tells the temperature: a filter for each size of flicker, all with
 * the temperature given. Not thread-safe.
 */
final class AxisBank implements Serializable {
  /** B, deg/h: from a good small gyro to a poor one (common practice, no source). */
  static final double[] FLICKER_DEG_PER_H = {2, 5, 12, 30};

  private static final double[] FLICKER_VARIANCE =
      Arrays.stream(FLICKER_DEG_PER_H).map(Axis::flickerVariance).toArray();

  private final Belief[] beliefs = new Belief[FLICKER_DEG_PER_H.length];
  private final Weights weights;
  private final double[] likely = new double[FLICKER_DEG_PER_H.length];

  AxisBank(double firstDps) {
    double[] prior = new double[beliefs.length];
    for (int i = 0; i < beliefs.length; i++) {
      beliefs[i] = new Belief(new double[Axis.SIZE], new double[Axis.SIZE]);
      Axis.begin(beliefs[i], 0, FLICKER_DEG_PER_H[i], firstDps);
      prior[i] = 1.0 / beliefs.length;
    }
    weights = new Weights(prior, prior);
  }

  /**
   * Takes a rate that is as expected; see {@link Belief#confirm}.
   *
   * @param belief one axis' filter
   */
  static double[] confirm(Belief belief, double variance, double temperatureVariance) {
    return belief.confirm(Axis.READING, variance + unsure(belief, temperatureVariance));
  }

  private static double unsure(Belief b, double temperatureVariance) {
    double slope = b.mean(Axis.SLOPE);
    return (slope * slope + b.cov(Axis.SLOPE, Axis.SLOPE)) * temperatureVariance;
  }

  Weights weights() {
    return weights;
  }

  Belief belief(int i) {
    return beliefs[i];
  }

  void predict(double seconds) {
    for (int i = 0; i < beliefs.length; i++) {
      Axis.predict(beliefs[i], 0, FLICKER_VARIANCE[i], seconds);
    }
  }

  void moveReference(double byC) {
    for (Belief b : beliefs) {
      Axis.moveReference(b, 0, byC);
    }
  }

  void widen(int entry, double sd) {
    for (Belief b : beliefs) {
      b.widen(entry, sd);
    }
  }

  /** The smallest distance of a rate from what a filter of weight expects, in deviations. */
  double surprise(double rateDps, double variance) {
    double least = Double.POSITIVE_INFINITY;
    for (int i = 0; i < beliefs.length; i++) {
      if (weights.of(i) > Bank.COUNTS) {
        double sd = Math.sqrt(beliefs[i].varianceOf(Axis.READING) + variance);
        least = Math.min(least, Math.abs(rateDps - beliefs[i].meanOf(Axis.READING)) / sd);
      }
    }
    return least;
  }

  /**
   * Takes a rate.
   *
   * @param variance of its white noise, (deg/s)^2
   * @param temperatureVariance how well the temperature is given, degC^2
   */
  void update(double rateDps, double variance, double temperatureVariance) {
    for (int i = 0; i < beliefs.length; i++) {
      Belief b = beliefs[i];
      double more = unsure(b, temperatureVariance);
      likely[i] = b.update(Axis.READING, rateDps - b.meanOf(Axis.READING), variance + more);
    }
    weights.take(likely);
  }
}
