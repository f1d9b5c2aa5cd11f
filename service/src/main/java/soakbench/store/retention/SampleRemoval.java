package soakbench.store.retention;

import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.Optional;
import soakbench.store.connection.Query;

/** Removes the samples of noted stretches in pieces, each a transaction of its own. */
final class SampleRemoval {
  /** So many samples are removed at a time: some hundredths of a second. */
  private static final int PIECE = 20_000;

  /** Of services side by side each has a stretch of its own. */
  private static final String NEXT =
      "SELECT tracker, from_time, to_time FROM sample_removal WHERE to_time <= ?"
          + " ORDER BY from_time LIMIT 1 FOR UPDATE SKIP LOCKED";

  private static final String WITHIN = " WHERE tracker = ? AND time >= ? AND time < ?";

  private record Stretch(String tracker, OffsetDateTime from, OffsetDateTime to) {
    Object[] until(OffsetDateTime end) {
      return new Object[] {tracker, from, end};
    }
  }

  private SampleRemoval() {}

  /** How many stretches wait. */
  static long waiting(Connection c) throws SQLException {
    return Query.list(c, rows -> rows.getLong(1), "SELECT count(*) FROM sample_removal").get(0);
  }

  /**
   * Removes the next piece of stretches that end before this time.
   *
   * @return how many samples; empty where nothing was left
   */
  static Optional<Integer> piece(Connection c, Instant before) throws SQLException {
    Optional<Stretch> next =
        Query.first(
            c,
            rows -> new Stretch(rows.getString(1), time(rows, 2), time(rows, 3)),
            NEXT,
            before.atOffset(ZoneOffset.UTC));
    return next.isEmpty() ? Optional.empty() : Optional.of(piece(c, next.get()));
  }

  private static OffsetDateTime time(ResultSet rows, int column) throws SQLException {
    return rows.getObject(column, OffsetDateTime.class);
  }

  private static int piece(Connection c, Stretch stretch) throws SQLException {
    Optional<OffsetDateTime> rest =
        Query.first(
            c,
            rows -> time(rows, 1),
            "SELECT time FROM sample" + WITHIN + " ORDER BY time OFFSET " + PIECE + " LIMIT 1",
            stretch.until(stretch.to()));
    Object[] these = stretch.until(rest.orElse(stretch.to()));
    int removed = Query.change(c, "DELETE FROM sample" + WITHIN, these);
    removed += Query.change(c, "DELETE FROM sample_aside" + WITHIN, these);
    if (rest.isPresent()) {
      Query.change(
          c,
          "UPDATE sample_removal SET from_time = ? WHERE tracker = ? AND from_time = ?",
          rest.get(),
          stretch.tracker(),
          stretch.from());
    } else {
      Query.change(
          c,
          "DELETE FROM sample_removal WHERE tracker = ? AND from_time = ?",
          stretch.tracker(),
          stretch.from());
    }
    return removed;
  }
}
