package soakbench.model;

import java.util.Locale;

/** Lengths of time as people read them. */
public final class Spans {
  private static final double[] UNIT_S = {1, 60, 3_600, 86_400, 31_557_600};
  private static final String[] UNIT = {"s", "min", "h", "days", "years"};

  private Spans() {}

  /** In the largest unit of which there are two or more: {@code 90 s}, {@code 3 h}. */
  public static String inLargest(double seconds) {
    int i = 0;
    while (i + 1 < UNIT.length && seconds >= 2 * UNIT_S[i + 1]) {
      i++;
    }
    return String.format(Locale.ROOT, "%,.0f %s", seconds / UNIT_S[i], UNIT[i]);
  }

  /** In seconds below two minutes, else in minutes, however many: {@code 150 min}. */
  public static String inMinutes(double seconds) {
    return seconds < 120 ? Math.round(seconds) + " s" : Math.round(seconds / 60) + " min";
  }

  /**
   * In its two largest units: {@code 50 s}, {@code 12 min 3 s}, {@code 3 h 20 min}, {@code 9 days
   * 23 h}.
   *
   * @param seconds whole ones; how long counts, not which way
   */
  public static String inTwoUnits(long seconds) {
    long s = Math.abs(seconds);
    if (s < 60) {
      return s + " s";
    }
    int i = s < 3_600 ? 1 : s < 86_400 ? 2 : 3;
    long whole = (long) (s / UNIT_S[i]);
    long rest = (long) (s % UNIT_S[i] / UNIT_S[i - 1]);
    String largest = i == 3 && whole == 1 ? "day" : UNIT[i];
    return whole + " " + largest + " " + rest + " " + UNIT[i - 1];
  }
}
