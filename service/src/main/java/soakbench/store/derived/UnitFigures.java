package soakbench.store.derived;

import java.sql.Array;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import soakbench.live.StoreException;
import soakbench.lots.SoakFigures;
import soakbench.lots.TrackerCurves;
import soakbench.lots.UnitSoak;
import soakbench.model.Soak;
import soakbench.store.connection.Pools;
import soakbench.store.connection.Query;
import soakbench.store.rows.LeftOut;
import soakbench.store.rows.Soaks;

/**
 * Every tracker's figures over all its soaks, kept in memory: what is read of the figures in table
 * {@code derived} for each call is which row stands there, and the row itself only where it is
 * another than before. So a figure that is derived anew, a soak that is left out or taken in, and
 * what another program writes is never missed, and a restart reads all rows once. Thread-safe; all
 * calls throw {@link StoreException} when the database does not answer.
 */
public final class UnitFigures {
  private static final String FROM =
      " FROM derived k JOIN soak s ON k.kind = 'figures' AND s.id = k.soak";

  /** Only rows of trackers that are asked for. */
  private static final String ASKED =
      " (?::text IS NULL OR s.tracker = ?) AND (?::text[] IS NULL AND ?::text IS NULL"
          + " OR EXISTS (SELECT FROM tracker t WHERE t.id = s.tracker"
          + " AND t.lot = ANY(coalesce(?, ARRAY[t.lot])) AND t.rack = coalesce(?, t.rack)))";

  private static final String PAGE =
      "SELECT DISTINCT s.tracker"
          + FROM
          + " WHERE s.tracker > ? AND"
          + ASKED
          + " ORDER BY s.tracker LIMIT ?";

  /** A row that is written again has another xmin, whoever wrote it. */
  private static final String STATE =
      "SELECT s.*, k.xmin::text AS written, "
          + LeftOut.reason("s")
          + " AS left_out"
          + FROM
          + " WHERE s.tracker = ANY(?) ORDER BY s.tracker, s.start_time DESC, s.id DESC";

  private static final String CONTENT =
      "SELECT s.id, k.content" + FROM + " WHERE s.tracker = ANY(?)";

  private final Pools pools;
  private final JsonColumn<SoakFigures> column;
  private final Map<String, Kept> kept = new ConcurrentHashMap<>();
  private volatile boolean read;

  public UnitFigures(Pools pools, DirtySoaks dirty) {
    this.pools = pools;
    this.column = DerivedFigures.column(dirty);
  }

  /**
   * Which trackers are asked for; null asks for all.
   *
   * @param tracker this one
   * @param lots those that the roster puts into one of these lots
   * @param rack those that it puts on this rack
   * @param after those whose id comes after this one
   * @param most so many at most
   */
  public record Asked(String tracker, List<String> lots, String rack, String after, int most) {
    /** Every tracker. */
    public static final Asked ALL = new Asked(null, null, null, null, Integer.MAX_VALUE);

    /** Every tracker of a lot. */
    public static Asked lot(String lot) {
      return lots(List.of(lot));
    }

    /** Every tracker of some lots. */
    public static Asked lots(List<String> lots) {
      return new Asked(null, List.copyOf(lots), null, null, Integer.MAX_VALUE);
    }

    /** A page of those of a lot and a rack; null for all. */
    public static Asked page(String lot, String rack, String after, int most) {
      return new Asked(null, lot == null ? null : List.of(lot), rack, after, most);
    }

    /** One tracker. */
    public static Asked tracker(String tracker) {
      return new Asked(tracker, null, null, null, 1);
    }

    private Object[] values(Connection c) throws SQLException {
      Array of = lots == null ? null : c.createArrayOf("text", lots.toArray());
      return new Object[] {after == null ? "" : after, tracker, tracker, of, rack, of, rack, most};
    }
  }

  /**
   * A soak that has figures.
   *
   * @param written which row they are
   */
  private record Row(Soak soak, String written, String leftOut) {
    /** What its unit's figures depend on; not when an open soak was heard last. */
    String state() {
      return soak.id() + " " + written + (leftOut == null ? "" : " " + leftOut);
    }
  }

  /** A unit as it was when its soaks were in this state. */
  private record Kept(List<String> state, TrackerCurves unit) {}

  /** Reads all of them in advance, once; later calls do nothing. */
  public void readFirst() {
    if (!read) {
      of(Asked.ALL);
      read = true;
    }
  }

  /** Those that have figures, by id. */
  public List<TrackerCurves> of(Asked asked) {
    Map<String, List<Row>> rows = new LinkedHashMap<>();
    List<TrackerCurves> units = new ArrayList<>();
    pools.request("reading figures", c -> readUnits(c, asked, rows));
    rows.forEach((tracker, soaks) -> unit(tracker, soaks).ifPresent(units::add));
    return List.copyOf(units);
  }

  private Void readUnits(Connection c, Asked asked, Map<String, List<Row>> rows)
      throws SQLException {
    List<String> trackers = Query.list(c, r -> r.getString(1), PAGE, asked.values(c));
    Query.each(
        c,
        UnitFigures::row,
        row -> rows.computeIfAbsent(row.soak().tracker(), t -> new ArrayList<>()).add(row),
        STATE,
        c.createArrayOf("text", trackers.toArray()));
    Set<String> outdated = new HashSet<>();
    rows.forEach(
        (tracker, soaks) -> {
          if (!holds(tracker, soaks)) {
            outdated.add(tracker);
          }
        });
    derive(c, rows, outdated);
    return null;
  }

  private boolean holds(String tracker, List<Row> soaks) {
    Kept before = kept.get(tracker);
    return before != null && before.state().equals(state(soaks));
  }

  private static List<String> state(List<Row> soaks) {
    return soaks.stream().map(Row::state).toList();
  }

  private static Row row(ResultSet rows) throws SQLException {
    return new Row(Soaks.read(rows), rows.getString("written"), rows.getString("left_out"));
  }

  /** A row written meanwhile is seen by the next call, as its state is another then. */
  private void derive(Connection c, Map<String, List<Row>> rows, Set<String> outdated)
      throws SQLException {
    if (outdated.isEmpty()) {
      return;
    }
    Map<String, SoakFigures> figures = new LinkedHashMap<>();
    Query.each(
        c,
        r -> Map.entry(r.getString(1), column.read(r.getString(1), r.getString(2))),
        read -> read.getValue().ifPresent(f -> figures.put(read.getKey(), f)),
        CONTENT,
        c.createArrayOf("text", outdated.toArray()));
    for (String tracker : outdated) {
      List<UnitSoak> soaks =
          rows.get(tracker).stream()
              .filter(r -> figures.containsKey(r.soak().id()))
              .map(r -> new UnitSoak(r.soak(), figures.get(r.soak().id()), r.leftOut()))
              .toList();
      TrackerCurves unit = soaks.isEmpty() ? null : TrackerCurves.of(soaks);
      kept.put(tracker, new Kept(state(rows.get(tracker)), unit));
    }
  }

  /** What is kept of a tracker, with its newest soak as that stands now. */
  private Optional<TrackerCurves> unit(String tracker, List<Row> soaks) {
    TrackerCurves unit = kept.get(tracker).unit();
    if (unit == null) {
      return Optional.empty();
    }
    String newest = unit.figures().soaks().newest().id();
    return soaks.stream()
        .map(Row::soak)
        .filter(s -> s.id().equals(newest))
        .findFirst()
        .map(unit::withNewest);
  }
}
