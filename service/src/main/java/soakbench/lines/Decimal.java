package soakbench.lines;

import java.util.Locale;
import java.util.regex.Pattern;

/**
 * Reads the plain decimal numbers that trackers print, several times as fast as the library. Exact:
 * where digits and power of ten are both whole numbers that a double holds, one division rounds
 * once and so correctly (Clinger, 1990, "How to read floating point numbers accurately", PLDI, 92
 * to 101).
 */
final class Decimal {
  private static final Pattern DECIMAL = Pattern.compile("[-+.0-9eE]*[0-9][-+.0-9eE]*");
  private static final long LARGEST_EXACT = 1L << 53;
  private static final double[] TENS = {
    1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16
  };

  private Decimal() {}

  /**
   * The number that a text says, with or without an exponent; NaN where it says itself that it is
   * none, as some firmware prints; null where it is anything else.
   */
  static Double of(String text) {
    String lower = text.toLowerCase(Locale.ROOT);
    if (lower.equals("nan") || lower.endsWith("inf")) {
      return Double.NaN;
    }
    try {
      return DECIMAL.matcher(text).matches() ? Double.valueOf(text) : null;
    } catch (NumberFormatException e) {
      // Made of the right characters, but in no order that means a number.
      return null;
    }
  }

  /**
   * The number that the text says; NaN where it is no plain decimal like -12.5 of at most 15
   * digits, which says nothing of whether it is a number of another form.
   */
  static double plain(byte[] text, int from, int to) {
    int at = from;
    boolean negative = at < to && text[at] == '-';
    at += negative ? 1 : 0;
    int beforePoint = at;
    long digits = 0;
    int point = -1;
    for (; at < to; at++) {
      int digit = text[at] - '0';
      if (digit >= 0 && digit <= 9 && digits < LARGEST_EXACT / 16) {
        digits = 10 * digits + digit;
      } else if (text[at] == '.' && point < 0 && at > beforePoint) {
        point = at;
      } else {
        return Double.NaN;
      }
    }
    int decimals = point < 0 ? 0 : to - point - 1;
    if (at == beforePoint || point == to - 1 || decimals >= TENS.length) {
      return Double.NaN;
    }
    double value = digits / TENS[decimals];
    return negative ? -value : value;
  }
}
