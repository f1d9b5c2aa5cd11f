package soakbench.readiness.estimator;

import java.io.Serializable;

/**
 * A figure with the interval that the two one-sided tests look at (TOST; D. J. Schuirmann, J.
 * Pharmacokin. Biopharm. 15, 1987).
 *
 * @param value best value
 * @param low lower end of the (1 - 2 alpha) interval
 * @param high its upper end
 */
public record TostInterval(double value, double low, double high) implements Serializable {
  /** One that reaches as far to either side. */
  public static TostInterval about(double value, double half) {
    return new TostInterval(value, value - half, value + half);
  }

  /**
   * The interval of a mixture.
   *
   * @param factor what its unit is multiplied by
   * @param alpha error rate of each of the two tests
   */
  static TostInterval of(Spread s, double factor, double alpha) {
    return new TostInterval(
        factor * s.value(), factor * s.quantile(alpha), factor * s.quantile(1 - alpha));
  }

  /** Equivalence shown: the whole interval lies within plus or minus the limit. */
  public boolean within(double limit) {
    return low >= -limit && high <= limit;
  }

  /** Drift shown: the whole interval lies outside. */
  public boolean outside(double limit) {
    return low > limit || high < -limit;
  }

  /** The larger of the two distances from zero. */
  public double reach() {
    return Math.max(Math.abs(low), Math.abs(high));
  }

  /** Half of its width. */
  public double half() {
    return (high - low) / 2;
  }
}
