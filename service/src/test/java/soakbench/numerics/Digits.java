package soakbench.numerics;

/** How well two figures agree. */
final class Digits {
  private Digits() {}

  /**
   * Decimal digits in which a computed figure agrees with a certified one: minus the logarithm of
   * the relative error (of the absolute one where zero is certified), 15 at most.
   */
  static double agreeing(double computed, double certified) {
    double error = Math.abs(computed - certified);
    double relative = certified == 0 ? error : error / Math.abs(certified);
    return relative == 0 ? 15 : Math.min(15, -Math.log10(relative));
  }
}
