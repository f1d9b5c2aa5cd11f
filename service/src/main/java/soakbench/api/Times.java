package soakbench.api;

import java.time.DateTimeException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.temporal.ChronoUnit;
import java.util.OptionalLong;

/** Microseconds since 1970 as RFC 3339 text and back. */
final class Times {
  private static final long US_PER_S = 1_000_000L;

  private Times() {}

  /** The time in UTC, with milliseconds or microseconds only where it has them. */
  static String text(long timeUs) {
    long second = Math.floorDiv(timeUs, US_PER_S);
    return Instant.ofEpochSecond(second, Math.floorMod(timeUs, US_PER_S) * 1000L).toString();
  }

  /** The time that an RFC 3339 text says, or nothing where it says none. */
  static OptionalLong parse(String text) {
    try {
      Instant instant = OffsetDateTime.parse(text).toInstant();
      return OptionalLong.of(ChronoUnit.MICROS.between(Instant.EPOCH, instant));
    } catch (DateTimeException e) {
      return OptionalLong.empty();
    }
  }
}
