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
import soakbench.store.derived.DueNotes.Taken;

/**
 * Finds the soaks of which something is to be derived. It looks only at those that are noted, and
 * asks nothing while none is. Safe for many threads.
 */
final class DueSearch {
  private static final String ALL = ") looked";
  private static final String NOTED = " WHERE s.id = ANY(?) OR s.tracker = ANY(?)) looked";
  private static final String NEWEST_FIRST = " WHERE due OR waits ORDER BY end_time DESC, id";

  private final Pools pools;
  private final DueNotes notes;
  private final String doing;
  private final String start;

  private record Found(String soak, boolean due) {}

  DueSearch(Pools pools, DueNotes notes, DerivedKind kind) {
    this.pools = pools;
    this.notes = notes;
    this.doing = "looking for " + kind.words + " out of date";
    this.start =
        "SELECT id, due FROM (SELECT s.id, s.end_time, (%s) AS due, (%s) AS waits%s"
            .formatted(kind.due(), kind.later(), kind.from());
  }

  /**
   * The newest that are due.
   *
   * @param version what was derived by another version is due
   * @param most so many at most
   * @param not leaves out these
   */
  List<String> find(int version, int most, Set<String> not) {
    Set<String> due = new LinkedHashSet<>(notes.unreadable());
    Taken taken = notes.take();
    if (!taken.nothing()) {
      List<Found> found = search(taken, version);
      notes.soaks(found.stream().map(Found::soak).toList());
      found.stream().filter(Found::due).forEach(f -> due.add(f.soak()));
    }
    return due.stream().filter(s -> !not.contains(s)).limit(most).collect(Collectors.toList());
  }

  private List<Found> search(Taken taken, int version) {
    try {
      return pools.request(doing, c -> search(c, taken, version));
    } catch (RuntimeException e) {
      notes.giveBack(taken);
      throw e;
    }
  }

  private List<Found> search(Connection c, Taken taken, int version) throws SQLException {
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
