package soakbench.store.retention;

import java.sql.Connection;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.Optional;
import soakbench.store.connection.Query;

/**
 * TimescaleDB's chunks of samples. One in which no soak keeps samples is dropped as a whole, which
 * costs nothing and gives its room back at once.
 */
final class SampleChunks {
  /** A reader that streams samples of a chunk holds it; the writer must not wait for that. */
  private static final String BRIEFLY = "SET LOCAL lock_timeout = '500ms'";

  /**
   * Nobody writes samples until the end, on whatever rack: what somebody is about to commit is
   * waited for, and seen by what is asked next. Not the chunks, of which there may be thousands.
   */
  private static final String ALONE = "LOCK TABLE ONLY sample IN SHARE ROW EXCLUSIVE MODE";

  private static final String CHUNKS =
      " FROM timescaledb_information.chunks c WHERE c.hypertable_schema = current_schema()"
          + " AND c.hypertable_name = 'sample'";

  private static final String FREE =
      "SELECT c.range_start, c.range_end"
          + CHUNKS
          + " AND c.range_end <= ? AND NOT EXISTS (SELECT 1 FROM soak s"
          + " WHERE s.samples_dropped IS NULL"
          + " AND s.start_time < c.range_end AND s.end_time >= c.range_start)"
          + " AND NOT EXISTS (SELECT 1 FROM stale WHERE to_timestamp(stale.from_second)"
          + " < c.range_end AND to_timestamp(stale.to_second) >= c.range_start)"
          + " ORDER BY c.range_start LIMIT 1";

  private static final String LONGEST =
      "SELECT extract(epoch FROM max(c.range_end - c.range_start))" + CHUNKS;

  private record Chunk(OffsetDateTime start, OffsetDateTime end) {}

  private SampleChunks() {}

  /** The length of a chunk; nothing where there is none. */
  static Duration longest(Connection c) throws SQLException {
    return Duration.ofSeconds(Query.list(c, rows -> rows.getLong(1), LONGEST).get(0));
  }

  /**
   * Drops the oldest one that lies before this time and holds no soak's samples. To be called while
   * this program writes nothing else.
   *
   * @return whether there was one
   */
  static boolean drop(Connection c, Instant before) throws SQLException {
    if (free(c, before).isEmpty()) {
      return false;
    }
    Query.change(c, BRIEFLY);
    Query.change(c, ALONE);
    Optional<Chunk> free = free(c, before);
    if (free.isPresent()) {
      drop(c, free.get());
    }
    return free.isPresent();
  }

  private static Optional<Chunk> free(Connection c, Instant before) throws SQLException {
    return Query.first(
        c,
        rows ->
            new Chunk(
                rows.getObject(1, OffsetDateTime.class), rows.getObject(2, OffsetDateTime.class)),
        FREE,
        before.atOffset(ZoneOffset.UTC));
  }

  private static void drop(Connection c, Chunk chunk) throws SQLException {
    Query.list(
        c,
        rows -> rows.getString(1),
        "SELECT drop_chunks('sample', older_than => ?::timestamptz, newer_than => ?::timestamptz)",
        chunk.end(),
        chunk.start());
    Query.change(
        c,
        "DELETE FROM sample_aside a USING sample_removal r WHERE a.tracker = r.tracker"
            + " AND a.time >= r.from_time AND a.time < r.to_time"
            + " AND r.from_time >= ? AND r.to_time <= ?",
        chunk.start(),
        chunk.end());
    Query.change(
        c,
        "DELETE FROM sample_removal WHERE from_time >= ? AND to_time <= ?",
        chunk.start(),
        chunk.end());
  }
}
