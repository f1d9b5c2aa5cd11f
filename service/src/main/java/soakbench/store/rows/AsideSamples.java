package soakbench.store.rows;

import java.sql.Connection;
import java.sql.SQLException;
import java.time.OffsetDateTime;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import soakbench.model.Sample;
import soakbench.store.connection.Query;

/** Table {@code sample_aside}: samples that belong to no soak since a clock was set back. */
public final class AsideSamples {
  private static final String COLUMNS = SampleLayout.INSTANCE.columns();

  private AsideSamples() {}

  public static int move(Connection c, String tracker, long fromUs, long toUs, Set<Long> butUs)
      throws SQLException {
    OffsetDateTime[] but = butUs.stream().map(SqlTimes::time).toArray(OffsetDateTime[]::new);
    return Query.change(
        c,
        "WITH gone AS (DELETE FROM sample WHERE tracker = ? AND time >= ? AND time < ?"
            + " AND NOT time = ANY(?) RETURNING "
            + COLUMNS
            + ") INSERT INTO sample_aside ("
            + COLUMNS
            + ") SELECT "
            + COLUMNS
            + " FROM gone ON CONFLICT DO NOTHING",
        tracker,
        SqlTimes.bound(fromUs),
        SqlTimes.bound(toUs),
        c.createArrayOf("timestamptz", but));
  }

  /** Those that stand under the keys of these samples; nearly always none. */
  static Map<Layout.Key, Sample> among(Connection c, List<Sample> samples) throws SQLException {
    Map<Layout.Key, Sample> found = new HashMap<>();
    Object[] trackers = samples.stream().map(Sample::tracker).distinct().toArray();
    long fromUs = samples.stream().mapToLong(Sample::timeUs).min().orElseThrow();
    long toUs = samples.stream().mapToLong(Sample::timeUs).max().orElseThrow();
    Query.each(
        c,
        SampleLayout.INSTANCE::read,
        (Sample s) -> found.put(SampleLayout.INSTANCE.key(s), s),
        "SELECT " + COLUMNS + " FROM sample_aside WHERE tracker = ANY(?) AND time BETWEEN ? AND ?",
        c.createArrayOf("text", trackers),
        SqlTimes.bound(fromUs),
        SqlTimes.bound(toUs));
    return found;
  }
}
