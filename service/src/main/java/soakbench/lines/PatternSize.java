package soakbench.lines;

import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * How large a pattern may become when its counted repeats are written out, found without writing
 * them out: a short text could ask for more than any memory holds. Never too small, whatever
 * brackets, classes or quotes the pattern holds; often too large.
 */
final class PatternSize {
  private static final Pattern COUNT = Pattern.compile("\\{([0-9]{1,9})(,([0-9]{0,9}))?}");
  private static final double ENDLESS = 1e15;

  private PatternSize() {}

  /** Parts after writing out, at most 10^15: repeats of groups multiply, all others add. */
  static long of(String pattern) {
    double product = 1;
    double sum = pattern.length();
    Matcher count = COUNT.matcher(pattern);
    while (count.find()) {
      double times = Math.max(number(count.group(1)), number(count.group(3))) + 1;
      char before = count.start() == 0 ? ' ' : pattern.charAt(count.start() - 1);
      if (before == ')' || before == '}' || before == '?') {
        product = Math.min(product * times, ENDLESS);
      } else {
        sum += times;
      }
    }
    return (long) Math.min(product * sum, ENDLESS);
  }

  private static double number(String digits) {
    return digits == null || digits.isEmpty() ? 0 : Double.parseDouble(digits);
  }
}
