package soakbench.store.rows;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import java.util.LongSummaryStatistics;
import java.util.stream.LongStream;

/**
 * A stretch of one tracker's rows in which keys follow each other closely, both ends included.
 * Between two that lie far apart nothing is to be read.
 */
record KeyStretch(String tracker, long firstUs, long lastUs) {
  private static final long APART_US = 60_000_000;

  /** The stretches in which keys lie, which may come in any order. */
  static List<KeyStretch> of(Collection<Layout.Key> keys) {
    List<Layout.Key> sorted =
        keys.stream()
            .sorted(Comparator.comparing(Layout.Key::tracker).thenComparingLong(Layout.Key::timeUs))
            .toList();
    List<KeyStretch> stretches = new ArrayList<>();
    int begin = 0;
    for (int i = 1; i <= sorted.size(); i++) {
      if (i == sorted.size() || !isNext(sorted.get(i - 1), sorted.get(i))) {
        Layout.Key first = sorted.get(begin);
        stretches.add(new KeyStretch(first.tracker(), first.timeUs(), sorted.get(i - 1).timeUs()));
        begin = i;
      }
    }
    return stretches;
  }

  private static boolean isNext(Layout.Key one, Layout.Key other) {
    return one.tracker().equals(other.tracker()) && other.timeUs() - one.timeUs() <= APART_US;
  }

  /**
   * Puts stretches into a statement's first five places: trackers, first times, last times, and
   * between which times all of them lie, by which TimescaleDB leaves other chunks alone.
   */
  static void set(Connection c, PreparedStatement statement, List<KeyStretch> stretches)
      throws SQLException {
    Object[] trackers = stretches.stream().map(KeyStretch::tracker).toArray();
    statement.setArray(1, c.createArrayOf("text", trackers));
    statement.setArray(2, SqlTimes.array(c, stretches.stream().mapToLong(s -> s.firstUs)));
    statement.setArray(3, SqlTimes.array(c, stretches.stream().mapToLong(s -> s.lastUs)));
    LongSummaryStatistics times =
        stretches.stream()
            .flatMapToLong(s -> LongStream.of(s.firstUs, s.lastUs))
            .summaryStatistics();
    statement.setObject(4, SqlTimes.time(times.getMin()));
    statement.setObject(5, SqlTimes.time(times.getMax()));
  }
}
