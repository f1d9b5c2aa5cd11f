package soakbench.store.retention;

import java.sql.Array;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import soakbench.live.calibration.CalibrationDeriver;
import soakbench.live.figures.FigureDeriver;
import soakbench.live.figures.SummaryDeriver;
import soakbench.model.RackSet;
import soakbench.store.connection.Query;
import soakbench.store.derived.DerivedKind;
import soakbench.store.rows.RacksAndLots;
import soakbench.store.rows.SqlTimes;

/**
 * The soaks whose samples may go: ended, older than asked by their own time and by when they were
 * stored, with nothing waiting to be worked in, and all that is derived of them up to date.
 */
final class OldSoaks {
  /** Takes three times the moment before which they must lie. By start, so that an index helps. */
  private static final String OLD =
      "s.samples_dropped IS NULL AND s.start_time < ? AND s.end_time < ?"
          + " AND coalesce(s.stored, '-infinity') < ?";

  private static final String DONE =
      "(s.ended IS NOT NULL AND NOT EXISTS (SELECT 1 FROM stale WHERE stale.tracker = s.tracker)"
          + (" AND " + DerivedKind.SUMMARY.upToDate(SummaryDeriver.VERSION))
          + (" AND " + DerivedKind.FIGURES.upToDate(FigureDeriver.VERSION))
          + (" AND " + DerivedKind.CALIBRATIONS.upToDate(CalibrationDeriver.VERSION) + ")");

  /** Takes the names of racks twice; every rack passes where it gets null. */
  private static final String OWN =
      "(?::text[] IS NULL OR coalesce((SELECT r.rack FROM tracker r WHERE r.id = s.tracker), '')"
          + " = ANY(?))";

  private static final String SUMS =
      "count(*), coalesce(sum(samples), 0)::bigint, min(start_time), max(end_time)";

  private final RackSet racks;

  /**
   * @param racks those for which this program writes: of others' soaks it can't know what is being
   *     written
   */
  OldSoaks(RackSet racks) {
    this.racks = racks;
  }

  /** Those of all racks whose samples may go, under true, and those that keep them, under false. */
  static Map<Boolean, Preview.Soaks> sums(Connection c, Instant before) throws SQLException {
    OffsetDateTime bound = bound(before);
    Map<Boolean, Preview.Soaks> sums = new HashMap<>();
    Query.each(
        c,
        rows -> Map.entry(rows.getBoolean("done"), sums(rows)),
        (Map.Entry<Boolean, Preview.Soaks> sum) -> sums.put(sum.getKey(), sum.getValue()),
        "SELECT %s, done FROM (SELECT s.*, %s AS done FROM soak s WHERE %s) old GROUP BY done"
            .formatted(SUMS, DONE, OLD),
        bound,
        bound,
        bound);
    return sums;
  }

  /** Some whose samples may go, the oldest first: that takes long where there are many. */
  List<String> find(Connection c, Instant before, int most) throws SQLException {
    OffsetDateTime bound = bound(before);
    return Query.list(
        c,
        rows -> rows.getString(1),
        "SELECT s.id FROM soak s WHERE %s AND %s AND %s ORDER BY s.start_time LIMIT ?"
            .formatted(OLD, DONE, OWN),
        bound,
        bound,
        bound,
        its(c),
        its(c),
        most);
  }

  /** The same of those whose samples are gone. */
  static Preview.Soaks dropped(Connection c) throws SQLException {
    String sql = "SELECT " + SUMS + " FROM soak WHERE samples_dropped IS NOT NULL";
    return Query.first(c, OldSoaks::sums, sql).orElseThrow();
  }

  private static Preview.Soaks sums(ResultSet rows) throws SQLException {
    long soaks = rows.getLong(1);
    return soaks == 0
        ? Preview.Soaks.NONE
        : new Preview.Soaks(soaks, rows.getLong(2), SqlTimes.us(rows, 3), SqlTimes.us(rows, 4));
  }

  /**
   * Marks those of these soaks whose samples still may go, and notes that they are to be removed. A
   * soak has all samples from its first to the end of its last second. To be called while nothing
   * of these racks is written; no tracker is moved to another rack meanwhile.
   *
   * @return how many were marked
   */
  int mark(Connection c, Instant before, List<String> found) throws SQLException {
    if (!racks.all()) {
      RacksAndLots.moves(c);
    }
    OffsetDateTime bound = bound(before);
    String sql =
        ("WITH old AS (SELECT s.id, s.tracker, s.start_time, s.end_time FROM soak s WHERE %s AND %s"
                + " AND %s AND s.id = ANY(?)), noted AS (INSERT INTO sample_removal"
                + " SELECT tracker, start_time, date_trunc('second', end_time) + interval '1 s'"
                + " FROM old ON CONFLICT (tracker, from_time) DO UPDATE"
                + " SET to_time = greatest(sample_removal.to_time, EXCLUDED.to_time))"
                + " UPDATE soak SET samples_kept = false, samples_dropped = now()"
                + " FROM old WHERE soak.id = old.id")
            .formatted(OLD, DONE, OWN);
    Array ids = c.createArrayOf("text", found.toArray());
    return Query.change(c, sql, bound, bound, bound, its(c), its(c), ids);
  }

  private Array its(Connection c) throws SQLException {
    return racks.all() ? null : c.createArrayOf("text", racks.names());
  }

  private static OffsetDateTime bound(Instant before) {
    return before.atOffset(ZoneOffset.UTC);
  }
}
