package soakbench.live.arrival;

import java.util.Locale;

/** Spans of time as people read them. */
final class Spans {
  private static final double[] UNIT_S = {1, 60, 3_600, 86_400, 31_557_600};
  private static final String[] UNIT = {"s", "min", "h", "days", "years"};

  private Spans() {}

  /** In the largest unit of which there are two or more. */
  static String text(double seconds) {
    int i = 0;
    while (i + 1 < UNIT.length && seconds >= 2 * UNIT_S[i + 1]) {
      i++;
    }
    return String.format(Locale.ROOT, "%,.0f %s", seconds / UNIT_S[i], UNIT[i]);
  }
}
