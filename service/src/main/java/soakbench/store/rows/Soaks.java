package soakbench.store.rows;

import java.sql.Array;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.OffsetDateTime;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import soakbench.model.Soak;
import soakbench.store.connection.Query;

/** Table {@code soak}. */
public final class Soaks {
  public static final String COLUMNS =
      "id, tracker, start_time, end_time, samples, ended, samples_kept";

  /**
   * Each tracker's open soak, or else its newest, by an index alone: from tracker to tracker, and
   * of each the first. A DISTINCT would sort the whole table.
   */
  public static final String LAST =
      "WITH RECURSIVE heard AS ((SELECT tracker FROM soak ORDER BY tracker LIMIT 1)"
          + " UNION ALL SELECT (SELECT s.tracker FROM soak s WHERE s.tracker > heard.tracker"
          + " ORDER BY s.tracker LIMIT 1) FROM heard WHERE heard.tracker IS NOT NULL)"
          + " SELECT newest.* FROM heard CROSS JOIN LATERAL (SELECT "
          + COLUMNS
          + " FROM soak WHERE soak.tracker = heard.tracker"
          + " ORDER BY (ended IS NULL) DESC, start_time DESC, id DESC LIMIT 1) newest"
          + " ORDER BY newest.tracker";

  private Soaks() {}

  /** Adds soaks, or replaces them, all by one statement: every open soak changes each second. */
  public static int write(Connection connection, Collection<Soak> all) throws SQLException {
    // A statement can't write a row twice.
    Map<String, Soak> last = new LinkedHashMap<>();
    all.forEach(
        soak -> last.merge(soak.id(), soak, (a, b) -> a.samplesKept() ? b : b.withoutSamples()));
    Collection<Soak> soaks = last.values();
    return Query.change(
        connection,
        "INSERT INTO soak ("
            + COLUMNS
            + ") SELECT * FROM unnest(?::text[], ?::text[], ?::timestamptz[], ?::timestamptz[],"
            + " ?::bigint[], ?::text[], ?::boolean[]) ON CONFLICT (id) DO UPDATE SET"
            + " tracker = EXCLUDED.tracker, start_time = EXCLUDED.start_time,"
            + " end_time = EXCLUDED.end_time, samples = EXCLUDED.samples, ended = EXCLUDED.ended,"
            + " samples_kept = soak.samples_kept AND EXCLUDED.samples_kept",
        column(connection, "text", soaks, Soak::id),
        column(connection, "text", soaks, Soak::tracker),
        SqlTimes.array(connection, soaks.stream().mapToLong(Soak::startUs)),
        SqlTimes.array(connection, soaks.stream().mapToLong(Soak::endUs)),
        column(connection, "bigint", soaks, Soak::samples),
        column(connection, "text", soaks, soak -> Query.word(soak.ended())),
        column(connection, "boolean", soaks, Soak::samplesKept));
  }

  private static Array column(
      Connection connection, String type, Collection<Soak> soaks, Function<Soak, Object> value)
      throws SQLException {
    return connection.createArrayOf(type, soaks.stream().map(value).toArray());
  }

  /** Returns whose it was; empty where there was none. */
  public static Optional<String> delete(Connection connection, String id) throws SQLException {
    Query.change(connection, "DELETE FROM timeline WHERE soak = ?", id);
    Query.change(connection, "DELETE FROM soak_terms WHERE soak = ?", id);
    Query.change(
        connection,
        "DELETE FROM derived WHERE kind IN ('summary', 'figures', 'calibrations') AND soak = ?",
        id);
    return Query.first(
        connection,
        rows -> rows.getString(1),
        "DELETE FROM soak WHERE id = ? RETURNING tracker",
        id);
  }

  public static List<Soak> ofTracker(Connection connection, String tracker, long fromUs)
      throws SQLException {
    return Query.list(
        connection,
        Soaks::read,
        "SELECT " + COLUMNS + " FROM soak WHERE tracker = ? AND end_time >= ? ORDER BY start_time",
        tracker,
        SqlTimes.bound(fromUs));
  }

  /** The same tracker's soak before this one. */
  public static Optional<Soak> before(Connection connection, Soak soak) throws SQLException {
    return Query.first(
        connection,
        Soaks::read,
        "SELECT "
            + COLUMNS
            + " FROM soak WHERE tracker = ? AND start_time < ?"
            + " ORDER BY start_time DESC LIMIT 1",
        soak.tracker(),
        SqlTimes.time(soak.startUs()));
  }

  public static List<Soak> last(Connection connection) throws SQLException {
    return Query.list(connection, Soaks::read, LAST);
  }

  public static Soak read(ResultSet rows) throws SQLException {
    return new Soak(
        rows.getString("id"),
        rows.getString("tracker"),
        SqlTimes.us(rows.getObject("start_time", OffsetDateTime.class)),
        SqlTimes.us(rows.getObject("end_time", OffsetDateTime.class)),
        rows.getLong("samples"),
        Query.constant(Soak.End.class, rows.getString("ended")),
        rows.getBoolean("samples_kept"));
  }
}
