package soakbench.store.connection;

import java.nio.charset.StandardCharsets;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.zip.CRC32;
import soakbench.model.RackSet;

/**
 * The advisory locks of the right to write for a set of racks. Who writes for all racks has the
 * writer's lock alone; who writes for some shares it and has a lock for each of them, so that sets
 * that overlap exclude each other and others do not. Transactions hold locks of the same kind,
 * shared, to their end: who takes over waits once for those of a former holder, and for no others.
 *
 * <p>A rack's lock goes by a number made of its name. Two names with the same number, one pair in
 * four thousand million, can't be written for by different services.
 */
final class RackLocks {
  private static final int SPACE = 0x50AB;
  private static final int RACK = 0x50AD;
  private static final int RACK_UNITS = 0x50AE;
  private static final int WRITER = 1;
  private static final int UNITS = 2;
  private static final int UNITS_OF_SETS = 3;

  private static final String HELD =
      "SELECT a.application_name, host(a.client_addr), a.backend_start, l.classid::bigint,"
          + " l.objid::bigint, l.mode FROM pg_locks l LEFT JOIN pg_stat_activity a ON a.pid = l.pid"
          + " WHERE l.locktype = 'advisory' AND l.objsubid = 2 AND l.granted"
          + " AND l.database = (SELECT oid FROM pg_database WHERE datname = current_database())"
          + (" AND (l.classid::bigint = %d AND l.objid::bigint = %d OR l.classid::bigint = %d)"
              .formatted(SPACE, WRITER, RACK))
          + " ORDER BY a.backend_start, l.pid";

  private record Key(int space, int id) {}

  private static final Comparator<Key> BY_ID = Comparator.comparingInt(Key::id);

  private record Held(Writer writer, long space, long id, boolean alone) {}

  private final RackSet racks;

  RackLocks(RackSet racks) {
    this.racks = racks;
  }

  /** Takes all of them for the session, or fails at one of them; the session is then closed. */
  boolean take(Connection c) throws SQLException {
    String mode = racks.all() ? "" : "_shared";
    if (!is(c, "SELECT pg_try_advisory_lock%s(%d, %d)".formatted(mode, SPACE, WRITER))) {
      return false;
    }
    // In order: of two that want the same rack, one gets all of its own.
    for (Key key : ofRacks(RACK)) {
      if (!is(c, "SELECT pg_try_advisory_lock(%d, %d)".formatted(key.space(), key.id()))) {
        return false;
      }
    }
    return true;
  }

  /** Waits for what former holders have under way. */
  void awaitFormer(Connection c) throws SQLException {
    List<Key> former = new ArrayList<>(ofRacks(RACK_UNITS));
    former.add(new Key(SPACE, UNITS));
    if (racks.all()) {
      former.add(new Key(SPACE, UNITS_OF_SETS));
    }
    try (Statement statement = c.createStatement()) {
      for (Key key : former) {
        String lock = "(%d, %d)".formatted(key.space(), key.id());
        statement.execute("SELECT pg_advisory_lock" + lock);
        statement.execute("SELECT pg_advisory_unlock" + lock);
      }
    }
  }

  /** A table of the locks that each transaction holds, shared: SQL with columns space and id. */
  String ofTransaction() {
    List<Key> keys = new ArrayList<>(ofRacks(RACK_UNITS));
    keys.add(new Key(SPACE, racks.all() ? UNITS : UNITS_OF_SETS));
    return keys.stream()
        .map(key -> "(%d, %d)".formatted(key.space(), key.id()))
        .collect(Collectors.joining(", ", "(VALUES ", ") AS held(space, id)"));
  }

  /** Leases that keep this set from being taken, this program's own with them. */
  List<Lease> conflicting(Connection c) throws SQLException {
    return held(c, racks.racks()).stream()
        .filter(lease -> racks.all() || lease.racks().all() || !lease.racks().racks().isEmpty())
        .toList();
  }

  /**
   * All leases, the oldest first.
   *
   * @param names racks that may be held by name
   */
  static List<Lease> held(Connection c, Collection<String> names) throws SQLException {
    Map<Writer, List<Held>> byWriter = new LinkedHashMap<>();
    for (Held held : Query.list(c, RackLocks::read, HELD)) {
      byWriter.computeIfAbsent(held.writer(), w -> new ArrayList<>()).add(held);
    }
    List<Lease> leases = new ArrayList<>();
    byWriter.forEach((writer, its) -> leases.add(new Lease(writer, racks(its, names))));
    return leases;
  }

  private static RackSet racks(List<Held> held, Collection<String> names) {
    if (held.stream().anyMatch(h -> h.space() == SPACE && h.alone())) {
      return RackSet.ALL;
    }
    TreeSet<String> its = new TreeSet<>(names);
    its.removeIf(
        name ->
            held.stream()
                .noneMatch(h -> h.space() == RACK && h.id() == (number(name) & 0xffffffffL)));
    return new RackSet(false, its);
  }

  private static Held read(ResultSet rows) throws SQLException {
    boolean alone = "ExclusiveLock".equals(rows.getString(6));
    return new Held(WriterName.read(rows), rows.getLong(4), rows.getLong(5), alone);
  }

  private List<Key> ofRacks(int space) {
    return racks.racks().stream().map(rack -> new Key(space, number(rack))).sorted(BY_ID).toList();
  }

  private static int number(String rack) {
    CRC32 sum = new CRC32();
    sum.update(rack.getBytes(StandardCharsets.UTF_8));
    return (int) sum.getValue();
  }

  static boolean is(Connection c, String sql) throws SQLException {
    try (Statement statement = c.createStatement();
        ResultSet rows = statement.executeQuery(sql)) {
      rows.next();
      return rows.getBoolean(1);
    }
  }
}
