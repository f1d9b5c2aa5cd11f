package soakbench.store.rows;

import java.sql.Array;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.time.temporal.ChronoUnit;
import java.util.Locale;
import java.util.stream.LongStream;

/** Microseconds since 1970 as the database's times and back, to the microsecond. */
public final class SqlTimes {
  private static final long US_PER_S = 1_000_000L;

  /** PostgreSQL counts from 2000-01-01. */
  private static final long EPOCH_2000_US = 946_684_800L * US_PER_S;

  /** The years 0 and 10000: samples lie between them, queries may ask beyond. */
  private static final long FIRST_US =
      Instant.parse("0000-01-01T00:00:00Z").getEpochSecond() * US_PER_S;

  private static final long END_US =
      Instant.parse("+10000-01-01T00:00:00Z").getEpochSecond() * US_PER_S;

  /** The driver's own way says the year 0, which the server calls 1 BC. */
  private static final DateTimeFormatter IN_ARRAY =
      DateTimeFormatter.ofPattern("yyyy-MM-dd'T'HH:mm:ss.SSSSSSX G", Locale.US);

  private SqlTimes() {}

  /** A bound of a query; what lies beyond all samples becomes minus or plus infinity. */
  public static OffsetDateTime bound(long timeUs) {
    if (timeUs < FIRST_US) {
      return OffsetDateTime.MIN;
    }
    return timeUs >= END_US ? OffsetDateTime.MAX : time(timeUs);
  }

  /** A bound of a query in whole seconds. */
  static OffsetDateTime secondBound(long second) {
    long clamped = Math.max(Math.min(second, END_US / US_PER_S), FIRST_US / US_PER_S - 1);
    return bound(clamped * US_PER_S);
  }

  /** The same as an expression, for a statement that takes no values. */
  static String expression(long second) {
    OffsetDateTime bound = secondBound(second);
    return bound.equals(OffsetDateTime.MIN)
        ? "'-infinity'"
        : bound.equals(OffsetDateTime.MAX)
            ? "'infinity'"
            : "to_timestamp(" + bound.toEpochSecond() + ")";
  }

  /** A time to be stored. */
  public static OffsetDateTime time(long timeUs) {
    checkStorable(timeUs);
    return Instant.EPOCH.plus(timeUs, ChronoUnit.MICROS).atOffset(ZoneOffset.UTC);
  }

  /** Times to be stored, as one value. */
  static Array array(Connection connection, LongStream timesUs) throws SQLException {
    Object[] texts = timesUs.mapToObj(us -> IN_ARRAY.format(time(us))).toArray();
    return connection.createArrayOf("timestamptz", texts);
  }

  /** A time of the row that a result stands on, which may not be null. */
  public static long us(ResultSet rows, int column) throws SQLException {
    return us(rows.getObject(column, OffsetDateTime.class));
  }

  public static long us(OffsetDateTime time) {
    return time.toEpochSecond() * US_PER_S + time.getNano() / 1_000;
  }

  /** As the binary form of COPY wants it: microseconds since 2000. */
  static long since2000Us(long timeUs) {
    checkStorable(timeUs);
    return timeUs - EPOCH_2000_US;
  }

  /** Microseconds since 1970 of a time in that form. */
  static long usOf2000(long since2000Us) {
    return since2000Us + EPOCH_2000_US;
  }

  private static void checkStorable(long timeUs) {
    if (timeUs < FIRST_US || timeUs >= END_US) {
      throw new IllegalArgumentException(
          "time " + timeUs + " us since 1970 is outside the years 0 to 9999");
    }
  }
}
