package soakbench.store.derived;

import java.sql.Connection;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import soakbench.store.connection.Pools;
import soakbench.store.connection.Query;
import soakbench.store.derived.DirtySoaks.Batch;

/**
 * Finds the soaks whose derived figures are out of date. It compares only those that are marked,
 * and queries nothing while none is. Thread-safe.
 */
final class OutdatedSearch {
  private static final String ALL = ") looked";
  private static final String NOTED = " WHERE s.id = ANY(?) OR s.tracker = ANY(?)) looked";
  private static final String NEWEST_FIRST = " WHERE due OR waits ORDER BY end_time DESC, id";

  private final Pools pools;
  private final DirtySoaks dirty;
  private final String doing;
  private final String start;

  private record Found(String soak, boolean due) {}

  OutdatedSearch(Pools pools, DirtySoaks dirty, DerivedKind kind) {
    this.pools = pools;
    this.dirty = dirty;
    this.doing = "looking for " + kind.words + " out of date";
    this.start =
        "SELECT id, due FROM (SELECT s.id, s.end_time, (%s) AS due, (%s) AS waits%s"
            .formatted(kind.due(), kind.later(), kind.from());
  }

  /**
   * The newest that are out of date.
   *
   * @param version what was derived by another version is out of date
   * @param most so many at most
   * @param not leaves out these
   */
  List<String> find(int version, int most, Set<String> not) {
    Set<String> due = new LinkedHashSet<>(dirty.unreadable());
    Batch taken = dirty.take();
    if (!taken.nothing()) {
      List<Found> found = search(taken, version);
      dirty.soaks(found.stream().map(Found::soak).toList());
      found.stream().filter(Found::due).forEach(f -> due.add(f.soak()));
    }
    return due.stream().filter(s -> !not.contains(s)).limit(most).collect(Collectors.toList());
  }

  private List<Found> search(Batch taken, int version) {
    try {
      return pools.request(doing, c -> search(c, taken, version));
    } catch (RuntimeException e) {
      dirty.giveBack(taken);
      throw e;
    }
  }

  private List<Found> search(Connection c, Batch taken, int version) throws SQLException {
    List<Object> all = new ArrayList<>(List.of(version));
    if (!taken.all()) {
      all.add(c.createArrayOf("text", taken.soaks().toArray()));
      all.add(c.createArrayOf("text", taken.trackers().toArray()));
    }
    return Query.list(
        c,
        rows -> new Found(rows.getString(1), rows.getBoolean(2)),
        start + (taken.all() ? ALL : NOTED) + NEWEST_FIRST,
        all.toArray());
  }
}
