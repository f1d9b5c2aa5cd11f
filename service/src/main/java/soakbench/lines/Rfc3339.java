package soakbench.lines;

import java.time.DateTimeException;
import java.time.LocalDate;
import java.time.OffsetDateTime;

/** Times in lines, RFC 3339. */
final class Rfc3339 {
  private static final long EARLIEST_US = any("2000-01-01T00:00:00Z");
  private static final long LATEST_US = any("2100-01-01T00:00:00Z");
  private static final String PLAIN = "0000-00-00T00:00:00Z";
  private static final int MOST_DIGITS = 9;
  private static final int DATE_LENGTH = 10;
  private static final int LONGEST = 40;
  private static final int LAST_YEAR = 9999;

  private Rfc3339() {}

  /**
   * Microseconds since 1970, cut off below; {@link Reading#NO_TIME} where the text is no such time
   * or lies outside 2000 to 2100.
   */
  static long microseconds(String text) {
    if (text.length() <= DATE_LENGTH || text.length() > LONGEST) {
      return Reading.NO_TIME;
    }
    try {
      long us = inPlainForm(text) ? plain(text) : any(text);
      return us >= EARLIEST_US && us < LATEST_US ? us : Reading.NO_TIME;
    } catch (DateTimeException e) {
      return Reading.NO_TIME;
    }
  }

  private static long any(String text) {
    OffsetDateTime time = OffsetDateTime.parse(withT(text));
    // Years of the library's range, up to a thousand million, overflow microseconds.
    return Math.abs(time.getYear()) > LAST_YEAR
        ? Reading.NO_TIME
        : time.toEpochSecond() * 1_000_000 + time.getNano() / 1_000;
  }

  /**
   * Whether it looks like {@link #PLAIN}, with or without a fraction. A long recording consists of
   * little else, and the library takes longer for a line's time than for all the rest of it.
   */
  private static boolean inPlainForm(String text) {
    int last = text.length() - 1;
    boolean fraction = last > PLAIN.length() && last <= PLAIN.length() + MOST_DIGITS;
    if (text.charAt(last) != 'Z' || last != PLAIN.length() - 1 && !fraction) {
      return false;
    }
    for (int i = 0; i < last; i++) {
      char expected = i < PLAIN.length() - 1 ? PLAIN.charAt(i) : i < PLAIN.length() ? '.' : '0';
      char c = text.charAt(i);
      if (expected == '0' ? c < '0' || c > '9' : c != expected) {
        return false;
      }
    }
    return true;
  }

  private static long plain(String text) {
    int hour = number(text, 11, 13);
    int minute = number(text, 14, 16);
    int second = number(text, 17, 19);
    if (hour > 23 || minute > 59 || second > 59) {
      return Reading.NO_TIME;
    }
    LocalDate date = LocalDate.of(number(text, 0, 4), number(text, 5, 7), number(text, 8, 10));
    int digits = Math.max(0, Math.min(6, text.length() - 1 - PLAIN.length()));
    long us = number(text, PLAIN.length(), PLAIN.length() + digits);
    for (int i = digits; i < 6; i++) {
      us *= 10;
    }
    long seconds = ((date.toEpochDay() * 24 + hour) * 60 + minute) * 60 + second;
    return seconds * 1_000_000 + us;
  }

  private static int number(String text, int from, int to) {
    int value = 0;
    for (int i = from; i < to; i++) {
      value = 10 * value + text.charAt(i) - '0';
    }
    return value;
  }

  /** RFC 3339 lets a blank stand for the T. */
  private static String withT(String text) {
    boolean blank = text.charAt(DATE_LENGTH) == ' ';
    return blank ? text.substring(0, DATE_LENGTH) + 'T' + text.substring(DATE_LENGTH + 1) : text;
  }
}
