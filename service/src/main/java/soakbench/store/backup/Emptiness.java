package soakbench.store.backup;

import java.sql.Connection;
import java.sql.SQLException;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.stream.Collectors;
import org.flywaydb.core.api.MigrationVersion;
import soakbench.live.StoreException;
import soakbench.store.connection.Query;
import soakbench.store.connection.Schema;

/**
 * Whether a store holds nothing that anybody could miss: only such a one is restored into. The
 * default limits, which a service writes down at its first start, are nothing.
 */
final class Emptiness {
  /** Counting all of a large table would take minutes. */
  private static final long MOST = 1_000_000;

  private static final String COUNT =
      "SELECT count(*) FROM (SELECT 1 FROM %s WHERE %s LIMIT " + MOST + ") AS counted";

  private static final String LIMITS = "limits_history";

  private Emptiness() {}

  /**
   * @throws StoreException if it is not empty, with what it holds, or of a newer schema than the
   *     backup
   */
  static void require(Connection c, OpenStore store, BackupFile file) throws SQLException {
    Map<String, Long> held = held(c);
    if (isThis(held, file)) {
      throw refused(
          "%s holds as many rows in each table as %s: it was restored from it already, or is where it was made; nothing is to be done"
              .formatted(store, file.path()));
    }
    if (!held.isEmpty()) {
      throw refused(
          "%s is not empty: it holds %s; name another folder with --data, or another database with --db"
              .formatted(store, words(held)));
    }
    MigrationVersion then = MigrationVersion.fromVersion(file.manifest().schema());
    if (Schema.version(c)
        .filter(v -> MigrationVersion.fromVersion(v).isNewerThan(then))
        .isPresent()) {
      throw refused(
          "%s is empty, but its tables are of schema %s and the backup of %s; name a folder or a database without tables"
              .formatted(store, Schema.version(c).orElseThrow(), then));
    }
  }

  private static Map<String, Long> held(Connection c) throws SQLException {
    Map<String, Long> held = new LinkedHashMap<>();
    for (StoredTable table : StoredTable.of(c)) {
      String which = table.name().equals(LIMITS) ? "origin <> 'defaults'" : "true";
      long rows =
          Query.first(c, r -> r.getLong(1), COUNT.formatted(table.quoted(), which)).orElseThrow();
      if (rows > 0) {
        held.put(table.name(), rows);
      }
    }
    return held;
  }

  /** A restore that was killed after its commit had not said so yet. */
  private static boolean isThis(Map<String, Long> held, BackupFile file) {
    Map<String, Long> backedUp = new LinkedHashMap<>();
    for (Manifest.Content content : file.manifest().tables()) {
      if (content.rows() > 0 && !content.table().equals(LIMITS)) {
        backedUp.put(content.table(), Math.min(content.rows(), MOST));
      }
    }
    Map<String, Long> others = new LinkedHashMap<>(held);
    others.remove(LIMITS);
    return !others.isEmpty() && others.equals(backedUp);
  }

  private static String words(Map<String, Long> held) {
    return held.entrySet().stream()
        .map(e -> (e.getValue() < MOST ? "" : "over ") + e.getValue() + " rows of " + e.getKey())
        .collect(Collectors.joining(", "));
  }

  private static StoreException refused(String message) {
    return new StoreException(message, null, false);
  }
}
