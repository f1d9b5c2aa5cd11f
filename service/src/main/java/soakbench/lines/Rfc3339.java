package soakbench.lines;

import java.time.DateTimeException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.temporal.ChronoUnit;

/** Times in lines, RFC 3339. */
final class Rfc3339 {
  private static final Instant EARLIEST = Instant.parse("2000-01-01T00:00:00Z");
  private static final Instant LATEST = Instant.parse("2100-01-01T00:00:00Z");
  private static final int DATE_LENGTH = 10;
  private static final int LONGEST = 40;

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
      Instant time = OffsetDateTime.parse(withT(text)).toInstant();
      boolean inRange = !time.isBefore(EARLIEST) && time.isBefore(LATEST);
      return inRange ? ChronoUnit.MICROS.between(Instant.EPOCH, time) : Reading.NO_TIME;
    } catch (DateTimeException e) {
      return Reading.NO_TIME;
    }
  }

  /** RFC 3339 lets a blank stand for the T. */
  private static String withT(String text) {
    boolean blank = text.charAt(DATE_LENGTH) == ' ';
    return blank ? text.substring(0, DATE_LENGTH) + 'T' + text.substring(DATE_LENGTH + 1) : text;
  }
}
