package soakbench.store;

import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.function.UnaryOperator;
import soakbench.live.StoreException;
import soakbench.model.Tracker;
import soakbench.store.connection.Pools;
import soakbench.store.connection.Query;

/**
 * The trackers as people listed them. A tracker that was heard but never listed is not in here.
 * Thread-safe; all calls throw {@link StoreException} when the database does not answer.
 */
public final class Roster {
  private static final String COLUMNS =
      "id, name, lot, imu, board, rack, slot, power, rates, temperature_offset_c, note";

  private static final String FIND = "SELECT " + COLUMNS + " FROM tracker WHERE id = ?";

  private static final String PUT =
      Query.upsert("tracker", "id", COLUMNS.substring("id, ".length()));

  private static final String PLACE =
      "INSERT INTO tracker (%s) VALUES (?, ?, '', '', '', ?, '', ?, ?, 0, '')".formatted(COLUMNS)
          + " ON CONFLICT (id) DO UPDATE SET rack = EXCLUDED.rack WHERE tracker.rack = ''";

  private final Pools pools;
  private final SoakChanges changed;
  private final List<Runnable> readers = new CopyOnWriteArrayList<>();

  Roster(Pools pools, SoakChanges changed) {
    this.pools = pools;
    this.changed = changed;
  }

  /** Ids by what happened to them, or would have. */
  public record Changes(List<String> added, List<String> changed, List<String> unchanged) {}

  /**
   * Subscribes to every change made here, so that no copy of the roster is left stale.
   *
   * @param reader called on the writing thread after the commit; must return at once
   */
  public void onChange(Runnable reader) {
    readers.add(reader);
  }

  /** Tells other services which trackers' entries a transaction changes. */
  void announce(Connection c, Collection<String> trackers) throws SQLException {
    pools.announcements().announce(c, true, trackers);
  }

  /** Entries of these trackers may have been changed by another way than {@link #putAll}. */
  void told(Collection<String> trackers) {
    changed.trackers(trackers);
    readers.forEach(Runnable::run);
  }

  /** All listed trackers, by id. */
  public List<Tracker> all() {
    return pools.request(
        "reading the roster",
        c -> Query.list(c, Roster::read, "SELECT " + COLUMNS + " FROM tracker ORDER BY id"));
  }

  public Optional<Tracker> find(String id) {
    return pools.request("reading the roster", c -> find(c, id));
  }

  /** Adds a tracker, or replaces its entry. */
  public void put(Tracker tracker) {
    putAll(List.of(tracker), false);
  }

  /**
   * Adds or replaces trackers, all of them or, on a failure, none. Others stay as they are.
   *
   * @param dryRun only reports what would change
   * @throws IllegalArgumentException if an id comes twice
   */
  public Changes putAll(List<Tracker> trackers, boolean dryRun) {
    refuseTwice(trackers);
    Changes changes;
    try {
      changes = pools.write("writing the roster", c -> putAll(c, trackers, dryRun));
    } finally {
      // Also when the answer got lost: then nobody knows whether it is written.
      changed.trackers(trackers.stream().map(Tracker::id).toList());
    }
    if (!dryRun) {
      readers.forEach(Runnable::run);
    }
    return changes;
  }

  /**
   * Changes a tracker's entry as it stands then: nothing that others change meanwhile gets lost.
   *
   * @return the changed entry; empty where there is none
   */
  public Optional<Tracker> change(String id, UnaryOperator<Tracker> change) {
    Optional<Tracker> entry;
    try {
      entry = pools.write("writing the roster", c -> change(c, id, change));
    } finally {
      changed.trackers(List.of(id));
    }
    readers.forEach(Runnable::run);
    return entry;
  }

  /**
   * Puts a tracker on a rack if it is not listed or lies on none; else its entry stays as it is.
   *
   * @return whether it lies on that rack now
   */
  public boolean place(String id, String rack) {
    boolean lies = pools.write("writing the roster", c -> place(c, Tracker.unknown(id), rack));
    told(List.of(id));
    return lies;
  }

  private boolean place(Connection c, Tracker t, String rack) throws SQLException {
    String power = Query.word(t.power());
    if (Query.change(c, PLACE, t.id(), t.name(), rack, power, Query.word(t.rates())) > 0) {
      announce(c, List.of(t.id()));
    }
    return find(c, t.id()).filter(now -> now.rack().equals(rack)).isPresent();
  }

  private Optional<Tracker> change(Connection connection, String id, UnaryOperator<Tracker> change)
      throws SQLException {
    Optional<Tracker> entry =
        Query.first(connection, Roster::read, FIND + " FOR UPDATE", id).map(change);
    if (entry.isPresent()) {
      put(connection, entry.get());
      announce(connection, List.of(id));
    }
    return entry;
  }

  private Changes putAll(Connection connection, List<Tracker> trackers, boolean dryRun)
      throws SQLException {
    Changes changes = new Changes(new ArrayList<>(), new ArrayList<>(), new ArrayList<>());
    for (Tracker tracker : trackers) {
      Optional<Tracker> known = find(connection, tracker.id());
      if (known.isEmpty()) {
        changes.added().add(tracker.id());
      } else if (known.get().equals(tracker)) {
        changes.unchanged().add(tracker.id());
        continue;
      } else {
        changes.changed().add(tracker.id());
      }
      if (!dryRun) {
        put(connection, tracker);
      }
    }
    if (!dryRun) {
      announce(connection, changes.added());
      announce(connection, changes.changed());
    }
    return changes;
  }

  private static void put(Connection connection, Tracker tracker) throws SQLException {
    Query.change(
        connection,
        PUT,
        tracker.id(),
        tracker.name(),
        tracker.lot(),
        tracker.imu(),
        tracker.board(),
        tracker.rack(),
        tracker.slot(),
        Query.word(tracker.power()),
        Query.word(tracker.rates()),
        tracker.temperatureOffsetC(),
        tracker.note());
  }

  private static Optional<Tracker> find(Connection connection, String id) throws SQLException {
    return Query.first(connection, Roster::read, FIND, id);
  }

  private static Tracker read(ResultSet rows) throws SQLException {
    return new Tracker(
        rows.getString(1),
        rows.getString(2),
        rows.getString(3),
        rows.getString(4),
        rows.getString(5),
        rows.getString(6),
        rows.getString(7),
        Query.constant(Tracker.Power.class, rows.getString(8)),
        Tracker.Rates.of(rows.getString(9)).orElseThrow(),
        rows.getDouble(10),
        rows.getString(11));
  }

  private static void refuseTwice(List<Tracker> trackers) {
    Set<String> seen = new HashSet<>();
    for (Tracker tracker : trackers) {
      if (!seen.add(tracker.id())) {
        throw new IllegalArgumentException(
            "tracker " + tracker.id() + " is listed twice; keep one of the two");
      }
    }
  }
}
