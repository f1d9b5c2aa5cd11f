package soakbench.lots.compare;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;

/** Numbers and names as people say them. */
final class Counts {
  private static final List<String> WORDS =
      List.of(
          "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
          "eleven", "twelve");
  private static final int MOST_NAMES = 4;

  private Counts() {}

  /** A number, in words up to twelve. */
  static String word(int count) {
    return count < WORDS.size() ? WORDS.get(count) : Integer.toString(count);
  }

  /** "one unit", "two units". */
  static String units(int count) {
    return word(count) + (count == 1 ? " unit" : " units");
  }

  /** "3 and 4 units". */
  static String list(int... counts) {
    List<String> all = Arrays.stream(counts).mapToObj(Integer::toString).toList();
    return and(all) + " units";
  }

  /** "A", "A and B", "A, B and C". */
  static String and(List<String> names) {
    int last = names.size() - 1;
    return last < 1
        ? String.join("", names)
        : String.join(", ", names.subList(0, last)) + " and " + names.get(last);
  }

  /** The same, of many only the first few and how many more. */
  static String some(List<String> names) {
    return names.size() <= MOST_NAMES + 1
        ? and(names)
        : names.stream().limit(MOST_NAMES).collect(Collectors.joining(", "))
            + " and "
            + (names.size() - MOST_NAMES)
            + " more";
  }

  /** Three digits that count. */
  static String number(double value) {
    double magnitude = Math.abs(value);
    if (magnitude >= 100 || magnitude == 0) {
      return String.format(Locale.ROOT, "%.0f", value);
    }
    int decimals = Math.min(9, Math.max(0, 2 - (int) Math.floor(Math.log10(magnitude))));
    return String.format(Locale.ROOT, "%." + decimals + "f", value);
  }
}
