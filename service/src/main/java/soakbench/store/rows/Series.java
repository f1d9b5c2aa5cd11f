package soakbench.store.rows;

import java.sql.Connection;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalLong;
import java.util.function.Consumer;
import soakbench.model.Bin;
import soakbench.model.Sample;
import soakbench.store.connection.Query;

/** Reads samples and bins of one tracker, by time, the end left out. */
public final class Series {
  private static final String SAMPLES =
      "SELECT %s FROM sample WHERE tracker = ? AND time >= ? AND time < ? ORDER BY time"
          .formatted(SampleLayout.INSTANCE.readOf("sample"));

  private Series() {}

  public static List<Sample> samples(Connection connection, String tracker, long fromUs, long toUs)
      throws SQLException {
    List<Sample> found = new ArrayList<>();
    eachSample(connection, tracker, fromUs, toUs, found::add);
    return List.copyOf(found);
  }

  public static void eachSample(
      Connection connection, String tracker, long fromUs, long toUs, Consumer<Sample> taker)
      throws SQLException {
    Query.each(
        connection,
        SampleLayout.INSTANCE::read,
        taker,
        SAMPLES,
        tracker,
        SqlTimes.bound(fromUs),
        SqlTimes.bound(toUs));
  }

  /** The time of the first sample at or after one. */
  public static OptionalLong nextSampleUs(Connection connection, String tracker, long fromUs)
      throws SQLException {
    return Query.list(
            connection,
            rows -> SqlTimes.us(rows, 1),
            "SELECT time FROM sample WHERE tracker = ? AND time >= ? ORDER BY time LIMIT 1",
            tracker,
            SqlTimes.bound(fromUs))
        .stream()
        .mapToLong(Long::longValue)
        .findFirst();
  }

  /** The time of the last sample before one. */
  public static OptionalLong lastSampleUs(Connection connection, String tracker, long toUs)
      throws SQLException {
    return Query.list(
            connection,
            rows -> SqlTimes.us(rows, 1),
            "SELECT time FROM sample WHERE tracker = ? AND time < ? ORDER BY time DESC LIMIT 1",
            tracker,
            SqlTimes.bound(toUs))
        .stream()
        .mapToLong(Long::longValue)
        .findFirst();
  }

  public static long countSamples(Connection connection, String tracker, long fromUs, long toUs)
      throws SQLException {
    return Query.list(
            connection,
            rows -> rows.getLong(1),
            "SELECT count(*) FROM sample WHERE tracker = ? AND time >= ? AND time < ?",
            tracker,
            SqlTimes.bound(fromUs),
            SqlTimes.bound(toUs))
        .get(0);
  }

  public static List<Bin> bins(
      Connection connection, String tracker, long fromSecond, long toSecond) throws SQLException {
    List<Bin> found = new ArrayList<>();
    BinaryRows.ofBins(
        connection,
        BinLayout.readColumns(),
        tracker,
        fromSecond,
        toSecond,
        row -> found.add(BinLayout.read(row, tracker)));
    return List.copyOf(found);
  }

  public static int deleteBins(
      Connection connection, String tracker, long fromSecond, long toSecond) throws SQLException {
    return Query.change(
        connection,
        "DELETE FROM bin WHERE tracker = ? AND time >= ? AND time < ?",
        tracker,
        SqlTimes.secondBound(fromSecond),
        SqlTimes.secondBound(toSecond));
  }
}
