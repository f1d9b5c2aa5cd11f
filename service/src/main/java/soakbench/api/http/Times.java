package soakbench.api.http;

import java.time.DateTimeException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.util.OptionalLong;

/** Microseconds since 1970 as RFC 3339 text and back. */
public final class Times {
  private static final long US_PER_S = 1_000_000L;
  private static final int LAST_YEAR = 9999;

  private Times() {}

  /** The time in UTC, with milliseconds or microseconds only where it has them. */
  public static String text(long timeUs) {
    return instant(timeUs).toString();
  }

  /** The same as an instant; null of null. */
  static Instant instant(Long timeUs) {
    return timeUs == null
        ? null
        : Instant.ofEpochSecond(
            Math.floorDiv(timeUs, US_PER_S), Math.floorMod(timeUs, US_PER_S) * 1000L);
  }

  /** The time that an RFC 3339 text says (years 0 to 9999), or nothing where it says none. */
  public static OptionalLong parse(String text) {
    try {
      OffsetDateTime time = OffsetDateTime.parse(text);
      return time.getYear() < 0 || time.getYear() > LAST_YEAR
          ? OptionalLong.empty()
          : OptionalLong.of(time.toEpochSecond() * US_PER_S + time.getNano() / 1_000);
    } catch (DateTimeException e) {
      return OptionalLong.empty();
    }
  }
}
