package soakbench.readiness.estimator;

/**
 * A figure with the interval that the two one-sided tests look at, and what it is held against.
 * Equivalence is shown where the whole interval lies within the limits (D. J. Schuirmann, J.
 * Pharmacokin. Biopharm. 15, 1987).
 *
 * @param value best value
 * @param low lower end of the (1 - 2 alpha) interval
 * @param high its upper end
 * @param limit the interval must lie within plus or minus this
 * @param met whether it does
 */
public record Tested(double value, double low, double high, double limit, boolean met) {
  static Tested of(Spread s, double factor, double limit, double alpha) {
    double low = factor * s.quantile(alpha);
    double high = factor * s.quantile(1 - alpha);
    return new Tested(factor * s.value(), low, high, limit, low >= -limit && high <= limit);
  }

  /** The larger of the two distances from zero. */
  double reach() {
    return Math.max(Math.abs(low), Math.abs(high));
  }
}
