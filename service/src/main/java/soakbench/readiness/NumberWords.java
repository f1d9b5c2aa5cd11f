package soakbench.readiness;

import java.util.Locale;

/** Numbers as people read them. */
final class NumberWords {
  private NumberWords() {}

  static String number(double value, int decimals) {
    return String.format(Locale.ROOT, "%." + decimals + "f", value);
  }

  /** A half width; one that rounds to nothing is told as what it stays under. */
  static String uncertainty(double half, int decimals) {
    double least = Math.pow(10, -decimals);
    return half < least / 2 ? "under " + number(least, decimals) : number(half, decimals);
  }

  static String degrees(double celsius) {
    return number(celsius, 1) + " °C";
  }
}
