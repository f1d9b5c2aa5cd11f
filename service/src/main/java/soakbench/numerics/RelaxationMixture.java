package soakbench.numerics;

import java.io.Serializable;
import java.util.function.DoubleUnaryOperator;

/**
 * What is known of y = P + D exp(-t/tau), t from now: a mixture over time constants, in which P and
 * D are normal for each.
 *
 * @param tau time constants, s
 * @param weight of each, sums to 1
 * @param given P and D for each tau
 */
public record RelaxationMixture(double[] tau, double[] weight, Given given)
    implements Serializable {

  /**
   * The normal distribution of P and D if tau were known: one entry for each tau.
   *
   * @param plateau mean of P
   * @param distance mean of D, the present distance from the plateau
   * @param plateauVariance variance of P
   * @param distanceVariance variance of D
   * @param covariance of P and D
   */
  public record Given(
      double[] plateau,
      double[] distance,
      double[] plateauVariance,
      double[] distanceVariance,
      double[] covariance)
      implements Serializable {}

  /** Change of y over the next {@code seconds}. */
  public Measured change(double seconds) {
    return ofDistance(tauS -> Math.expm1(-seconds / tauS));
  }

  /** Slope of y now, per second. */
  public Measured slope() {
    return ofDistance(tauS -> -1 / tauS);
  }

  /** The plateau. */
  public Measured plateau() {
    return mixed(0);
  }

  /** The present value, noise taken off. */
  public Measured present() {
    return mixed(1);
  }

  private Measured mixed(double left) {
    double mean = 0;
    double square = 0;
    for (int k = 0; k < tau.length; k++) {
      double v = given.plateau[k] + left * given.distance[k];
      mean += weight[k] * v;
      square += weight[k] * (v * v + variance(k, left));
    }
    return Measured.ofVariance(mean, square - mean * mean);
  }

  /** Mean of P + left D if the tau of this index is the true one. */
  public double mean(int k, double left) {
    return given.plateau[k] + left * given.distance[k];
  }

  /** Variance of P + left D if the tau of this index is the true one. */
  public double variance(int k, double left) {
    double variance =
        given.plateauVariance[k]
            + left * left * given.distanceVariance[k]
            + 2 * left * given.covariance[k];
    return Math.max(0, variance);
  }

  private Measured ofDistance(DoubleUnaryOperator factorOfTau) {
    double mean = 0;
    double square = 0;
    for (int k = 0; k < tau.length; k++) {
      double f = factorOfTau.applyAsDouble(tau[k]);
      mean += weight[k] * f * given.distance[k];
      square +=
          weight[k] * f * f * (given.distance[k] * given.distance[k] + given.distanceVariance[k]);
    }
    return Measured.ofVariance(mean, square - mean * mean);
  }
}
