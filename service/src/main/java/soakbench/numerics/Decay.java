package soakbench.numerics;

/**
 * exp(-t/tau), quickly where times are evenly spaced: each value is then the one before times the
 * same factor. After a thousand of them it is still known to thirteen digits, enough for searches.
 */
final class Decay {
  private Decay() {}

  /**
   * The values.
   *
   * @param t ascending, in the unit of tau
   */
  static double[] of(double[] t, double tau) {
    double[] out = new double[t.length];
    double step = Double.NaN;
    double factor = Double.NaN;
    out[0] = Math.exp(-t[0] / tau);
    for (int i = 1; i < t.length; i++) {
      double next = t[i] - t[i - 1];
      if (next != step) {
        step = next;
        factor = Math.exp(-step / tau);
      }
      out[i] = out[i - 1] * factor;
    }
    return out;
  }
}
