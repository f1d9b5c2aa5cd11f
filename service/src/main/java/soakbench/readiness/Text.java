package soakbench.readiness;

import java.util.Locale;

/** Numbers as people read them. */
final class Text {
  private Text() {}

  static String number(double value, int decimals) {
    return String.format(Locale.ROOT, "%." + decimals + "f", value);
  }

  static String degrees(double celsius) {
    return number(celsius, 1) + " °C";
  }

  static String duration(double seconds) {
    return seconds < 120 ? Math.round(seconds) + " s" : Math.round(seconds / 60) + " min";
  }
}
