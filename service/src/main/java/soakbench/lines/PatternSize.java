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

  /** What may end a repeated group; E where an empty quote stands between it and its count. */
  private static final String GROUP_ENDS = ")}?E";

  private PatternSize() {}

  /** Parts after writing out: repeats of groups multiply, all others add. */
  static double of(String pattern) {
    double product = 1;
    double sum = pattern.length();
    Matcher count = COUNT.matcher(pattern);
    while (count.find()) {
      double times = Math.max(number(count.group(1)), number(count.group(3))) + 1;
      if (count.start() > 0 && GROUP_ENDS.indexOf(pattern.charAt(count.start() - 1)) >= 0) {
        product *= times;
      } else {
        sum += times;
      }
    }
    return product * sum;
  }

  private static double number(String digits) {
    return digits == null || digits.isEmpty() ? 0 : Double.parseDouble(digits);
  }
}
