package soakbench.readiness;

import java.math.BigDecimal;
import java.math.RoundingMode;

/** Numbers as people read them. */
final class NumberWords {
  private NumberWords() {}

  static String number(double value, int decimals) {
    if (!Double.isFinite(value)) {
      return String.valueOf(value);
    }
    return BigDecimal.valueOf(value).setScale(decimals, RoundingMode.HALF_UP).toPlainString();
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
