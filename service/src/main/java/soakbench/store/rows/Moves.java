package soakbench.store.rows;

import java.sql.Connection;
import java.sql.SQLException;
import java.time.OffsetDateTime;
import soakbench.live.SoakStore.Moved;
import soakbench.model.Soak;
import soakbench.store.connection.Query;

/** Gives what is stored of one tracker to another. */
public final class Moves {
  private static final String COLUMNS = SampleLayout.INSTANCE.columns();

  private static final String WITHIN = " WHERE tracker = ? AND time >= ? AND time < ?";

  private static final String TAKEN =
      " EXISTS (SELECT 1 FROM sample b WHERE b.tracker = ? AND b.time = %s)";

  private Moves() {}

  public static Moved samples(Connection c, String tracker, String into, long fromUs, long toUs)
      throws SQLException {
    Object[] values = {tracker, SqlTimes.bound(fromUs), SqlTimes.bound(toUs)};
    parts(c, tracker, into, fromUs, toUs);
    int aside = setAside(c, taken(c, values, into), values);
    int moved = give(c, "sample", COLUMNS, into, values);
    return new Moved(moved, aside);
  }

  /**
   * Times at which both have samples. Asked for by itself: a change of compressed rows unpacks
   * those it changes, and does not see those that it only asks for.
   */
  private static Object[] taken(Connection c, Object[] values, String into) throws SQLException {
    return Query.list(
            c,
            rows -> rows.getObject(1, OffsetDateTime.class),
            "SELECT time FROM sample a" + WITHIN + " AND" + TAKEN.formatted("a.time"),
            values[0],
            values[1],
            values[2],
            into)
        .toArray();
  }

  private static int setAside(Connection c, Object[] times, Object[] values) throws SQLException {
    return Query.change(
        c,
        "WITH gone AS (DELETE FROM sample%1$s AND time = ANY(?) RETURNING %2$s)"
                .formatted(WITHIN, COLUMNS)
            + " INSERT INTO sample_aside (%1$s) SELECT %1$s FROM gone ON CONFLICT DO NOTHING"
                .formatted(COLUMNS),
        values[0],
        values[1],
        values[2],
        c.createArrayOf("timestamptz", times));
  }

  /** Taken out and put in: an update does not hold the key against compressed rows. */
  private static int give(Connection c, String table, String columns, String into, Object[] values)
      throws SQLException {
    String given = columns.replaceFirst("tracker$", "?");
    return Query.change(
        c,
        "WITH gone AS (DELETE FROM %1$s%2$s RETURNING *) INSERT INTO %1$s (%3$s) SELECT %4$s FROM gone"
            .formatted(table, WITHIN, columns, given),
        values[0],
        values[1],
        values[2],
        into);
  }

  /** What was noted of the imports goes with them, but for samples that are set aside. */
  private static void parts(Connection c, String tracker, String into, long fromUs, long toUs)
      throws SQLException {
    Query.change(
        c,
        "UPDATE import_part SET tracker = ?, times = ARRAY(SELECT t FROM unnest(times) t WHERE NOT"
            + TAKEN.formatted("t")
            + ") WHERE tracker = ? AND from_time >= ? AND from_time < ?",
        into,
        into,
        tracker,
        SqlTimes.bound(fromUs),
        SqlTimes.bound(toUs));
  }

  /** Its figures and calibrations are derived anew: they rest on the soak before it, too. */
  public static int soak(Connection c, Soak soak, Soak other) throws SQLException {
    Object[] bins = {
      soak.tracker(),
      SqlTimes.secondBound(soak.startSecond()),
      SqlTimes.secondBound(soak.endSecond() + 1)
    };
    give(c, BinLayout.INSTANCE.table(), BinLayout.INSTANCE.columns(), other.tracker(), bins);
    Query.change(
        c, "DELETE FROM derived WHERE kind IN ('figures', 'calibrations') AND soak = ?", soak.id());
    Query.change(
        c,
        "UPDATE derived SET soak = ? WHERE kind = 'summary' AND soak = ?",
        other.id(),
        soak.id());
    for (String table : new String[] {"timeline", "soak_terms"}) {
      Query.change(c, "UPDATE " + table + " SET soak = ? WHERE soak = ?", other.id(), soak.id());
    }
    Query.change(
        c,
        "UPDATE sample_removal SET tracker = ? WHERE tracker = ? AND from_time >= ? AND from_time"
            + " <= ?",
        other.tracker(),
        soak.tracker(),
        SqlTimes.time(soak.startUs()),
        SqlTimes.time(soak.endUs()));
    return Query.change(
        c,
        "UPDATE soak SET id = ?, tracker = ? WHERE id = ?",
        other.id(),
        other.tracker(),
        soak.id());
  }
}
