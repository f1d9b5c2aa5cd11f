package soakbench.store.rows;

import java.sql.Connection;
import java.sql.SQLException;
import soakbench.live.SoakStore.Moved;
import soakbench.model.Soak;
import soakbench.store.connection.Query;

/** Gives what is stored of one tracker to another. */
public final class Moves {
  private static final String COLUMNS = SampleLayout.INSTANCE.columns();

  private static final String WITHIN = " a WHERE a.tracker = ? AND a.time >= ? AND a.time < ?";

  private static final String TAKEN =
      " EXISTS (SELECT 1 FROM sample b WHERE b.tracker = ? AND b.time = %s)";

  private Moves() {}

  public static Moved samples(Connection c, String tracker, String into, long fromUs, long toUs)
      throws SQLException {
    Object[] values = {tracker, SqlTimes.bound(fromUs), SqlTimes.bound(toUs)};
    parts(c, tracker, into, fromUs, toUs);
    int aside =
        Query.change(
            c,
            "WITH gone AS (DELETE FROM sample"
                + WITHIN
                + (" AND" + TAKEN.formatted("a.time"))
                + (" RETURNING " + COLUMNS)
                + (") INSERT INTO sample_aside (" + COLUMNS + ")")
                + (" SELECT " + COLUMNS + " FROM gone ON CONFLICT DO NOTHING"),
            values[0],
            values[1],
            values[2],
            into);
    int moved =
        Query.change(
            c, "UPDATE sample" + " a SET tracker = ?" + WITHIN.substring(2), with(into, values));
    return new Moved(moved, aside);
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

  private static Object[] with(Object first, Object... others) {
    Object[] all = new Object[others.length + 1];
    all[0] = first;
    System.arraycopy(others, 0, all, 1, others.length);
    return all;
  }

  /** Its figures and calibrations are derived anew: they rest on the soak before it, too. */
  public static int soak(Connection c, Soak soak, Soak other) throws SQLException {
    Query.change(
        c,
        "UPDATE bin SET tracker = ? WHERE tracker = ? AND time >= ? AND time < ?",
        other.tracker(),
        soak.tracker(),
        SqlTimes.secondBound(soak.startSecond()),
        SqlTimes.secondBound(soak.endSecond() + 1));
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
