package soakbench.store.rows;

import java.sql.Connection;
import java.sql.SQLException;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import soakbench.live.ImportedStretch;
import soakbench.model.Sample;
import soakbench.store.connection.Query;

/** Table {@code import_part}: which samples came by which import. */
public final class ImportParts {
  /** A part within which nothing is missing for longer lies in one soak, nearly always. */
  private static final long APART_US = 600_000_000L;

  private static final String WITHIN =
      " WHERE import = ? AND tracker = ? AND from_time >= ? AND to_time <= ?";

  /** As far as the last soak that the first part lies in, or as that part alone. */
  private static final String NEXT =
      """
      WITH first AS (
        SELECT tracker, from_time, to_time FROM import_part WHERE import = ? AND tracker > ?
        ORDER BY tracker, from_time LIMIT 1
      ), reach AS (
        SELECT f.tracker, f.from_time, GREATEST(f.to_time, (
          SELECT max(s.end_time) FROM soak s WHERE s.tracker = f.tracker
          AND s.start_time <= f.to_time AND s.end_time >= f.from_time)) AS to_time
        FROM first f
      )
      SELECT r.tracker, r.from_time, max(p.to_time) FROM reach r JOIN import_part p
      ON p.import = ? AND p.tracker = r.tracker AND p.from_time BETWEEN r.from_time AND r.to_time
      GROUP BY r.tracker, r.from_time\
      """;

  private ImportParts() {}

  public static int note(Connection c, long imported, List<Sample> samples) throws SQLException {
    Map<String, List<Long>> timesUs = new LinkedHashMap<>();
    samples.forEach(
        s -> timesUs.computeIfAbsent(s.tracker(), t -> new ArrayList<>()).add(s.timeUs()));
    for (Map.Entry<String, List<Long>> one : timesUs.entrySet()) {
      List<Long> sorted = one.getValue().stream().sorted().toList();
      int from = 0;
      for (int i = 1; i <= sorted.size(); i++) {
        if (i == sorted.size() || sorted.get(i) - sorted.get(i - 1) > APART_US) {
          note(c, imported, one.getKey(), sorted.subList(from, i));
          from = i;
        }
      }
    }
    return samples.size();
  }

  private static void note(Connection c, long imported, String tracker, List<Long> timesUs)
      throws SQLException {
    OffsetDateTime[] times = timesUs.stream().map(SqlTimes::time).toArray(OffsetDateTime[]::new);
    Query.change(
        c,
        "INSERT INTO import_part (import, tracker, from_time, to_time, times)"
            + " VALUES (?, ?, ?, ?, ?)",
        imported,
        tracker,
        times[0],
        times[times.length - 1],
        c.createArrayOf("timestamptz", times));
  }

  public static Optional<ImportedStretch> next(Connection c, long imported, String after)
      throws SQLException {
    return Query.first(
        c,
        rows -> new ImportedStretch(rows.getString(1), SqlTimes.us(rows, 2), SqlTimes.us(rows, 3)),
        NEXT,
        imported,
        after,
        imported);
  }

  public static long count(Connection c, long imported, ImportedStretch stretch)
      throws SQLException {
    return Query.list(
            c,
            rows -> rows.getLong(1),
            "SELECT coalesce(sum(cardinality(times)), 0) FROM import_part" + WITHIN,
            values(imported, stretch))
        .get(0);
  }

  /** Also those that were set aside. */
  public static long takeOut(Connection c, long imported, ImportedStretch stretch)
      throws SQLException {
    long taken = delete(c, "sample", imported, stretch);
    taken += delete(c, "sample_aside", imported, stretch);
    Query.change(c, "DELETE FROM import_part" + WITHIN, values(imported, stretch));
    return taken;
  }

  private static int delete(Connection c, String table, long imported, ImportedStretch stretch)
      throws SQLException {
    return Query.change(
        c,
        "DELETE FROM "
            + table
            + " WHERE tracker = ? AND time >= ? AND time <= ?"
            + " AND time IN (SELECT unnest(times) FROM import_part"
            + WITHIN
            + ")",
        stretch.tracker(),
        SqlTimes.time(stretch.fromUs()),
        SqlTimes.time(stretch.toUs()),
        imported,
        stretch.tracker(),
        SqlTimes.time(stretch.fromUs()),
        SqlTimes.time(stretch.toUs()));
  }

  private static Object[] values(long imported, ImportedStretch stretch) {
    return new Object[] {
      imported, stretch.tracker(), SqlTimes.time(stretch.fromUs()), SqlTimes.time(stretch.toUs())
    };
  }
}
