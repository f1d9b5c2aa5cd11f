package soakbench.store.rows;

import java.sql.Connection;
import java.sql.SQLException;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import soakbench.model.BinSpan;
import soakbench.store.connection.Query;

/**
 * Reads what a tracker has of bins over months, put together to few rows of whole minutes. Where
 * the database keeps minutes of them, from these: a sixtieth of the rows. Either way the numbers
 * are the same, but for bins of more than an hour ago that changed within the last half hour, which
 * TimescaleDB has yet to put together again.
 */
public final class BinMinutes {
  private static final long MINUTE_S = 60;

  private static final String FROM_BINS =
      select(
          "min(time), max(time), count(*), max(boot), max(greatest(gx_sd_dps, gy_sd_dps,"
              + " gz_sd_dps))",
          "min(%1$s_mean_%2$s), avg(%1$s_mean_%2$s), max(%1$s_mean_%2$s)",
          "bin",
          "time");

  private static final String FROM_MINUTES =
      select(
          "min(first_second), max(last_second), sum(seconds), max(boot), max(gyro_sd_dps)",
          "min(%1$s_low_%2$s), sum(%1$s_sum_%2$s) / nullif(sum(%1$s_seconds), 0),"
              + " max(%1$s_high_%2$s)",
          "bin_minute",
          "minute");

  private BinMinutes() {}

  private static String select(String seconds, String channel, String table, String time) {
    String channels =
        Stream.of("temperature c", "gx dps", "gy dps", "gz dps", "ax g", "ay g", "az g")
            .map(name -> channel.formatted((Object[]) name.split(" ")))
            .collect(Collectors.joining(", "));
    return "SELECT %s, %s FROM %s WHERE tracker = ? AND %4$s >= ? AND %4$s < ?"
            .formatted(seconds, channels, table, time)
        + " GROUP BY date_bin(? * interval '1 minute', %s, ?::timestamptz) ORDER BY 1"
            .formatted(time);
  }

  /**
   * The minutes that {@code fromSecond <= second < toSecond} touches, in steps of as many as are
   * needed, from the first with a bin on.
   *
   * @param most how many rows at most, at least 1
   */
  public static List<BinSpan> read(
      Connection connection, String tracker, long fromSecond, long toSecond, int most)
      throws SQLException {
    Object from = SqlTimes.secondBound(startOfMinute(fromSecond));
    Object to = SqlTimes.secondBound(endOfMinute(toSecond));
    Optional<BinSpans.Ends> found =
        Query.first(
            connection, BinSpans::ends, BinSpans.ENDS, tracker, from, to, tracker, from, to);
    if (found.isEmpty()) {
      return List.of();
    }
    long first = startOfMinute(found.get().fromSecond());
    long end = endOfMinute(found.get().endSecond());
    long stepMinutes = BinSpans.stepS(first / MINUTE_S, end / MINUTE_S, most);
    Object begin = SqlTimes.secondBound(first);
    return Query.list(
        connection,
        BinSpans::span,
        areKept(connection) ? FROM_MINUTES : FROM_BINS,
        tracker,
        begin,
        SqlTimes.secondBound(end),
        stepMinutes,
        begin);
  }

  private static boolean areKept(Connection c) throws SQLException {
    return Query.list(c, r -> r.getBoolean(1), "SELECT to_regclass('bin_minute') IS NOT NULL")
        .get(0);
  }

  private static long startOfMinute(long second) {
    return second - Math.floorMod(second, MINUTE_S);
  }

  private static long endOfMinute(long second) {
    return second + Math.floorMod(-second, MINUTE_S);
  }
}
