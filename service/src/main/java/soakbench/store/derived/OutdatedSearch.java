package soakbench.store.derived;

import java.sql.Array;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
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
  /** Only soaks of trackers on racks for which this program derives. */
  private static final String OWN = " WHERE (?::text[] IS NULL OR coalesce(r.rack, '') = ANY(?))";

  private static final String ALL = OWN + ") looked";
  private static final String NOTED = OWN + " AND (s.id = ANY(?) OR s.tracker = ANY(?))) looked";
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
    Set<String> due = new LinkedHashSet<>(own(dirty.unreadable()));
    Batch taken = dirty.take();
    if (!taken.nothing()) {
      List<Found> found = search(taken, version);
      dirty.soaks(found.stream().map(Found::soak).toList());
      found.stream().filter(Found::due).forEach(f -> due.add(f.soak()));
    }
    return due.stream().filter(s -> !not.contains(s)).limit(most).collect(Collectors.toList());
  }

  private Collection<String> own(Set<String> soaks) {
    if (soaks.isEmpty() || dirty.racks().all()) {
      return soaks;
    }
    String sql =
        "SELECT s.id FROM soak s LEFT JOIN tracker r ON r.id = s.tracker"
            + OWN
            + " AND s.id = ANY(?)";
    return pools.request(
        doing,
        c -> {
          Array its = racks(c);
          return Query.list(c, rows -> rows.getString(1), sql, its, its, texts(c, soaks));
        });
  }

  private Array racks(Connection c) throws SQLException {
    String[] names = dirty.racks().names();
    return names == null ? null : c.createArrayOf("text", names);
  }

  private static Array texts(Connection c, Set<String> texts) throws SQLException {
    return c.createArrayOf("text", texts.toArray());
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
    List<Object> all = new ArrayList<>(Arrays.asList(version, racks(c), racks(c)));
    if (!taken.all()) {
      all.add(texts(c, taken.soaks()));
      all.add(texts(c, taken.trackers()));
    }
    return Query.list(
        c,
        rows -> new Found(rows.getString(1), rows.getBoolean(2)),
        start + (taken.all() ? ALL : NOTED) + NEWEST_FIRST,
        all.toArray());
  }
}
