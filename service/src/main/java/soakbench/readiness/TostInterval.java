package soakbench.readiness;

/**
 * A figure with the interval that the two one-sided tests (TOST, Schuirmann 1987) look at. Its half
 * width is no multiple of a standard error: what the thermometer's step may hide is added to it.
 *
 * @param value best value
 * @param half half width of the (1 - 2 alpha) interval
 */
record TostInterval(double value, double half) {
  double low() {
    return value - half;
  }

  double high() {
    return value + half;
  }

  /**
   * Equivalence shown: the whole interval lies within plus or minus the limit (Schuirmann 1987).
   */
  boolean within(double limit) {
    return low() >= -limit && high() <= limit;
  }

  /** Drift shown: the whole interval lies outside. */
  boolean outside(double limit) {
    return low() > limit || high() < -limit;
  }

  /** The larger of the two distances from zero. */
  double reach() {
    return Math.max(Math.abs(low()), Math.abs(high()));
  }
}
