package soakbench.store.rows;

import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import soakbench.model.BinSpan;
import soakbench.model.BinSpan.Extent;
import soakbench.model.Soak;
import soakbench.store.connection.Query;

/**
 * Reads the bins of one tracker put together to few rows. The database does it: ten hours are
 * 36,000 bins of 28 columns, which take longer to be handed over than to be gone through. Each row
 * is looked up by the key, as grouping would sort them all.
 */
public final class BinSpans {
  private static final long US_PER_S = 1_000_000L;

  /** Columns before the extents. */
  private static final int FIRST_EXTENT = 6;

  private static final String IN =
      "FROM bin WHERE tracker = ? AND time >= ? AND time < ? ORDER BY time";

  static final String ENDS =
      "SELECT a.time, z.time FROM (SELECT time %1$s LIMIT 1) a, (SELECT time %1$s DESC LIMIT 1) z"
          .formatted(IN);

  private static final String SPANS =
      "SELECT s.* FROM generate_series(?::timestamptz, ?, ? * interval '1 second') AS begins,"
          + " LATERAL (SELECT min(time), max(time), count(*) AS seconds, max(boot),"
          + " max(greatest(gx_sd_dps, gy_sd_dps, gz_sd_dps)), "
          + Stream.of(
                  "temperature_mean_c",
                  "gx_mean_dps",
                  "gy_mean_dps",
                  "gz_mean_dps",
                  "ax_mean_g",
                  "ay_mean_g",
                  "az_mean_g")
              .map(c -> "min(%1$s), avg(%1$s), max(%1$s)".formatted(c))
              .collect(Collectors.joining(", "))
          // The outer bounds are for TimescaleDB, which leaves chunks beyond them alone.
          + " FROM bin WHERE tracker = ? AND time >= begins AND time >= ? AND time < ?"
          + " AND time < begins + ? * interval '1 second') AS s"
          + " WHERE seconds > 0 ORDER BY begins";

  private BinSpans() {}

  /** The first second with a bin, and the one after the last. */
  record Ends(long fromSecond, long endSecond) {}

  /**
   * Bins with {@code fromSecond <= second < toSecond}, in steps of as many whole seconds as are
   * needed, from the first bin on.
   *
   * @param most how many rows at most, at least 1
   */
  public static List<BinSpan> read(
      Connection connection, String tracker, long fromSecond, long toSecond, int most)
      throws SQLException {
    Object from = SqlTimes.secondBound(fromSecond);
    Object to = SqlTimes.secondBound(toSecond);
    Optional<Ends> found =
        Query.first(connection, BinSpans::ends, ENDS, tracker, from, to, tracker, from, to);
    if (found.isEmpty()) {
      return List.of();
    }
    Ends ends = found.get();
    long stepS = stepS(ends.fromSecond, ends.endSecond, most);
    Object first = SqlTimes.secondBound(ends.fromSecond);
    Object end = SqlTimes.secondBound(ends.endSecond);
    Object last = SqlTimes.secondBound(ends.endSecond - 1);
    return Query.list(
        connection, BinSpans::span, SPANS, first, last, stepS, tracker, first, end, stepS);
  }

  /** The second of a soak's newest bin; empty where it has none. */
  public static Optional<Long> lastSecond(Connection connection, Soak soak) throws SQLException {
    return Query.first(
        connection,
        rows -> second(rows, 1),
        "SELECT time " + IN + " DESC LIMIT 1",
        soak.tracker(),
        SqlTimes.secondBound(soak.startSecond()),
        SqlTimes.secondBound(soak.endSecond() + 1));
  }

  /** How many seconds a row is made of. */
  static long stepS(long fromSecond, long endSecond, int most) {
    return -Math.floorDiv(fromSecond - endSecond, (long) most);
  }

  static Ends ends(ResultSet rows) throws SQLException {
    return new Ends(second(rows, 1), second(rows, 2) + 1);
  }

  static BinSpan span(ResultSet rows) throws SQLException {
    return new BinSpan(
        second(rows, 1),
        second(rows, 2) + 1,
        rows.getInt(3),
        rows.getInt(4),
        extent(rows, 0),
        new Extent[] {extent(rows, 1), extent(rows, 2), extent(rows, 3)},
        new Extent[] {extent(rows, 4), extent(rows, 5), extent(rows, 6)},
        number(rows, 5));
  }

  private static Extent extent(ResultSet rows, int channel) throws SQLException {
    int column = FIRST_EXTENT + 3 * channel;
    return new Extent(number(rows, column), number(rows, column + 1), number(rows, column + 2));
  }

  private static long second(ResultSet rows, int column) throws SQLException {
    return Math.floorDiv(SqlTimes.us(rows, column), US_PER_S);
  }

  private static double number(ResultSet rows, int column) throws SQLException {
    double value = rows.getDouble(column);
    return rows.wasNull() ? Double.NaN : value;
  }
}
