package soakbench.store.backup;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeSet;
import java.util.function.LongConsumer;
import java.util.function.ObjDoubleConsumer;
import java.util.stream.Collectors;
import org.flywaydb.core.api.MigrationVersion;
import org.postgresql.PGConnection;
import soakbench.live.StoreException;
import soakbench.store.connection.DatabaseFaults;
import soakbench.store.connection.KnownMigrations;
import soakbench.store.connection.Query;
import soakbench.store.connection.Schema;
import soakbench.store.server.DatabaseSettings;

/**
 * Puts a backup into an empty store of either kind. All rows come in one transaction, compared with
 * what was written down when they were copied, so a store that is not whole stays empty; the tables
 * are made as they were then, and brought up to date with the rows in them.
 */
public final class Restore {
  private static final int BLOCK = 1 << 16;

  private final BackupFile file;
  private final OpenStore store;
  private final LongConsumer read;

  private Restore(BackupFile file, OpenStore store, LongConsumer read) {
    this.file = file;
    this.store = store;
    this.read = read;
  }

  /**
   * Reads a backup to its end and touches nothing.
   *
   * @param progress receives what is being done and which share is done, 0 to 1
   * @throws StoreException if it is none, not whole, or of a newer program
   */
  public static Summary check(Path from, ObjDoubleConsumer<String> progress) throws IOException {
    try (BackupFile file = BackupFile.open(from)) {
      file.check(counting(file, "checking", progress));
      return new Summary(file.manifest(), Files.size(from));
    }
  }

  /**
   * Checks a backup, then puts it into a store; where this throws, the store is as empty as before.
   *
   * @param progress receives what is being done and which share is done, 0 to 1
   * @throws StoreException if the backup is not good, the store is not empty, in use or not to be
   *     reached
   */
  public static Summary into(
      DatabaseSettings settings, Path from, ObjDoubleConsumer<String> progress) throws IOException {
    try (BackupFile file = BackupFile.open(from)) {
      file.check(counting(file, "checking", progress));
      try (OpenStore store = OpenStore.toWrite(settings)) {
        new Restore(file, store, counting(file, "restoring", progress)).run();
      }
      return new Summary(file.manifest(), Files.size(from));
    }
  }

  private static LongConsumer counting(
      BackupFile file, String doing, ObjDoubleConsumer<String> progress) {
    double all = Math.max(1, file.manifest().bytes());
    long[] done = {0};
    return more -> {
      done[0] += more;
      progress.accept(doing, done[0] / all);
    };
  }

  private void run() throws IOException {
    try {
      try (Connection c = store.connect()) {
        Emptiness.require(c, store, file);
      }
      boolean earlier = makeTables();
      fill();
      if (earlier) {
        bringUpToDate();
      }
      analyze();
    } catch (SQLException e) {
      throw DatabaseFaults.of("restoring " + file.path(), e);
    }
  }

  /**
   * Of the schema of then. Where that is today's, with hypertables, so that no row moves later.
   *
   * @return whether it is an earlier one
   */
  private boolean makeTables() {
    MigrationVersion then = MigrationVersion.fromVersion(file.manifest().schema());
    boolean earlier = KnownMigrations.newest().isNewerThan(then);
    if (earlier) {
      Schema.migrateTo(then, store.address().dataSource(0), store.address());
    } else {
      bringUpToDate();
    }
    return earlier;
  }

  private void bringUpToDate() {
    Schema.migrate(store.address().dataSource(0), store.address(), !store.isEmbedded());
  }

  private void fill() throws SQLException, IOException {
    try (Connection c = store.connect()) {
      Map<String, StoredTable> tables =
          StoredTable.of(c).stream().collect(Collectors.toMap(StoredTable::name, t -> t));
      c.commit();
      List<StoredTable> filled = matching(tables);
      String names = filled.stream().map(StoredTable::quoted).collect(Collectors.joining(", "));
      Query.change(c, "LOCK TABLE " + names + " IN SHARE ROW EXCLUSIVE MODE");
      Emptiness.require(c, store, file);
      for (StoredTable table : filled) {
        Query.change(c, "DELETE FROM " + table.quoted());
      }
      for (Manifest.Content content : file.manifest().tables()) {
        copy(c, tables.get(content.table()), content);
      }
      for (Manifest.Counter counter : file.manifest().counters()) {
        Counters.set(c, tables.get(counter.table()), counter);
      }
      c.commit();
    }
  }

  /** Those of the backup, as they stand in the store. */
  private List<StoredTable> matching(Map<String, StoredTable> tables) {
    List<StoredTable> found = new ArrayList<>();
    for (Manifest.Content content : file.manifest().tables()) {
      StoredTable table = tables.get(content.table());
      if (table == null
          || !new TreeSet<>(table.columns()).equals(new TreeSet<>(content.columns()))) {
        throw new StoreException(
            "%s holds table \"%s\" with columns %s, which schema %s has %s; nothing is restored"
                .formatted(
                    file.path(),
                    content.table(),
                    content.columns(),
                    file.manifest().schema(),
                    table == null ? "not" : "otherwise: " + table.columns()),
            null,
            false);
      }
      found.add(table);
    }
    return found;
  }

  private void copy(Connection c, StoredTable table, Manifest.Content content)
      throws SQLException, IOException {
    StoredTable ordered =
        new StoredTable(table.name(), content.columns(), table.counters(), table.sizeBytes());
    String sql = "COPY %s (%s) FROM STDIN".formatted(ordered.quoted(), ordered.quotedColumns());
    try (BackupFile.Text text = file.text(content, read)) {
      c.unwrap(PGConnection.class).getCopyAPI().copyIn(sql, text, BLOCK);
      text.check();
    }
    long rows =
        Query.first(c, r -> r.getLong(1), "SELECT count(*) FROM " + ordered.quoted()).orElseThrow();
    if (rows != content.rows()) {
      throw new StoreException(
          "table \"%s\" got %d rows in place of the %d of %s; nothing is restored"
              .formatted(table.name(), rows, content.rows(), file.path()),
          null,
          false);
    }
  }

  /** So that the first questions are planned by what is there now. */
  private void analyze() throws SQLException {
    try (Connection c = store.connect()) {
      for (StoredTable table : StoredTable.of(c)) {
        Query.change(c, "ANALYZE " + table.quoted());
      }
      c.commit();
    }
  }
}
