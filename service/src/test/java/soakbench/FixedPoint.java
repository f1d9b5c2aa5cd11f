package soakbench;

/**
 * Numbers with a fixed count of decimal places. What tests send is often tens of thousands of
 * lines, and {@link String#format} took longer to write them than the service to judge them.
 */
public final class FixedPoint {
  private static final long[] POWERS = {1, 10, 100, 1_000, 10_000, 100_000};

  private FixedPoint() {}

  /**
   * Writes a number, rounded to its last place.
   *
   * @param value finite, and small enough for a {@code long} of its last place
   * @param places after the point, 1 to 5
   */
  public static StringBuilder append(StringBuilder out, double value, int places) {
    long unit = POWERS[places];
    long scaled = Math.round(Math.abs(value) * unit);
    if (value < 0 && scaled > 0) {
      out.append('-');
    }
    out.append(scaled / unit).append('.');
    long rest = scaled % unit;
    for (long digit = unit / 10; digit > Math.max(rest, 1); digit /= 10) {
      out.append('0');
    }
    return out.append(rest);
  }

  /** The same as text. */
  public static String text(double value, int places) {
    return append(new StringBuilder(), value, places).toString();
  }
}
