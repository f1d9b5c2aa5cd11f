package soakbench.lines;

/**
 * How large a pattern becomes when its counted repeats are written out, found without writing them
 * out: nested ones multiply, and a short text could ask for more than any memory holds.
 */
final class PatternSize {
  private static final long ENDLESS = Long.MAX_VALUE / 1_000_000;

  private final String pattern;
  private int at;

  private PatternSize(String pattern) {
    this.pattern = pattern;
  }

  /** Atoms after writing out, at most some 10^13; of a pattern that is malformed any number. */
  static long of(String pattern) {
    PatternSize size = new PatternSize(pattern);
    long sum = 0;
    while (size.at < pattern.length()) {
      // A closing bracket too many is the compiler's to tell.
      sum = capped(sum + size.sequence());
      size.at++;
    }
    return sum;
  }

  /** Up to the closing bracket of this level. */
  private long sequence() {
    long sum = 0;
    while (at < pattern.length() && pattern.charAt(at) != ')') {
      long atom = atom();
      sum = capped(sum + capped(atom * repeats()));
    }
    return sum;
  }

  private long atom() {
    char c = pattern.charAt(at++);
    if (c == '(') {
      long inside = sequence();
      at++;
      return inside + 2;
    }
    if (c == '[') {
      while (at < pattern.length() && pattern.charAt(at) != ']') {
        at += pattern.charAt(at) == '\\' ? 2 : 1;
      }
      at++;
    } else if (c == '\\') {
      at++;
    }
    return 1;
  }

  /** The greater number of {n}, {n,} or {n,m}; 1 without. */
  private long repeats() {
    if (at >= pattern.length() || pattern.charAt(at) != '{') {
      return 1;
    }
    int end = pattern.indexOf('}', at);
    String inside = end < 0 ? "" : pattern.substring(at + 1, end);
    if (!inside.matches("[0-9]{1,6}(,[0-9]{0,6})?")) {
      return 1;
    }
    at = end + 1;
    long most = 1;
    for (String number : inside.split(",")) {
      most = Math.max(most, Long.parseLong(number));
    }
    return most + 1;
  }

  private static long capped(long size) {
    return Math.min(size, ENDLESS);
  }
}
