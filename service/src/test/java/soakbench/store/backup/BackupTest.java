package soakbench.store.backup;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.function.ObjDoubleConsumer;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import soakbench.live.StoreException;
import soakbench.live.watch.SoakWatch;
import soakbench.store.Database;
import soakbench.store.SharedServer;
import soakbench.store.connection.Query;
import soakbench.store.connection.Schema;
import soakbench.store.server.DatabaseSettings;
import soakbench.store.server.ServerAddress;

/** What a store held is found again in another. */
@Timeout(120)
class BackupTest {
  private static final ObjDoubleConsumer<String> SILENT = (words, share) -> {};
  private static final String FULL = "INSERT INTO stale VALUES ('wren-9', 1, 2)";

  /** What a migration wrote is of the moment at which it ran. */
  private static final String DERIVED_NOW =
      "UPDATE derived SET derived_at = '2026-03-03T08:00:00Z' WHERE kind = 'summary'";

  /**
   * How often trackers moved between racks: services that are at work compare it, none later. How
   * far rows are moved into chunks, which begins anew where there are none. And judges, which are
   * judged anew.
   */
  private static final List<String> NOT_COPIED =
      List.of("roster_moves", "chunk_move", "kept_judge");

  @TempDir private static Path folder;

  /** A database as schema 14 left it, brought up to date after it was backed up. */
  private static DatabaseSettings store;

  private static Path ofSchema14;
  private static Path ofToday;

  @BeforeAll
  static void fill() throws Exception {
    store = SharedServer.bare();
    try (var in = BackupTest.class.getResourceAsStream("/old/schema-14.sql")) {
      StoredRows.change(store, new String(in.readAllBytes(), StandardCharsets.UTF_8));
    }
    ofSchema14 = folder.resolve("14.zip");
    Backup.write(store, ofSchema14, SILENT);
    migrate(store);
    StoredRows.change(
        store,
        DERIVED_NOW,
        "INSERT INTO tracker_merge (tracker, into_id, address, reason)"
            + " VALUES ('wren-1', 'wren-2', '', E'a tab\\t, a line\\nand ä, \\\\N')");
    ofToday = folder.resolve("today.zip");
    Backup.write(store, ofToday, SILENT);
  }

  private static void migrate(DatabaseSettings settings) {
    ServerAddress address = ServerAddress.of(settings);
    Schema.migrate(address.dataSource(0), address, true);
  }

  private static DatabaseSettings restored(Path backup) throws Exception {
    DatabaseSettings target =
        backup.equals(ofSchema14) ? SharedServer.bare() : SharedServer.empty();
    Restore.into(target, backup, SILENT);
    return target;
  }

  private static void assertSame(
      Map<String, List<String>> rows, Map<String, List<String>> expected) {
    assertThat(rows.keySet()).isEqualTo(expected.keySet());
    rows.forEach((table, all) -> assertThat(all).as(table).isEqualTo(expected.get(table)));
  }

  private static long next(DatabaseSettings settings, String insert) throws SQLException {
    try (Connection c = SharedServer.connect(settings)) {
      return Query.first(c, r -> r.getLong(1), insert).orElseThrow();
    }
  }

  @Test
  void everyRowOfEveryTableIsThereAgainAndNumbersGoOn() throws Exception {
    DatabaseSettings target = restored(ofToday);
    assertSame(StoredRows.of(target), StoredRows.of(store));
    assertThat(StoredRows.of(target).get("sample")).hasSizeGreaterThan(1000);
    String insert =
        "INSERT INTO timeline (soak, time, state, revised) VALUES ('x', now(), 'ready', false)"
            + " RETURNING entry";
    assertThat(next(target, insert)).isGreaterThan(1);
    StoredRows.change(target, "DELETE FROM timeline WHERE soak = 'x'");
  }

  @Test
  void whatAnEarlierReleaseBackedUpIsBroughtUpToDateAsItIsRestored() throws Exception {
    Map<String, List<String>> today = StoredRows.of(store);
    today.put("tracker_merge", List.of());
    DatabaseSettings target = restored(ofSchema14);
    StoredRows.change(target, DERIVED_NOW);
    assertSame(StoredRows.of(target), today);
  }

  @Test
  void noTableIsLeftOut() throws Exception {
    try (Connection c = SharedServer.connect(SharedServer.empty())) {
      List<String> all =
          Query.list(
              c,
              r -> r.getString(1),
              "SELECT relname FROM pg_class WHERE relnamespace = 'public'::regnamespace"
                  + " AND relkind IN ('r', 'p') AND relname NOT LIKE 'flyway%'");
      List<String> copied = new ArrayList<>(all);
      copied.removeAll(NOT_COPIED);
      assertThat(StoredTable.of(c))
          .extracting(StoredTable::name)
          .containsExactlyInAnyOrderElementsOf(copied);
    }
  }

  @Test
  void whatIsWrittenWhileTablesAreCopiedIsNotInItAndWaitsForNothing() throws Exception {
    DatabaseSettings busy = restored(ofToday);
    Map<String, List<String>> before = StoredRows.of(busy);
    AtomicBoolean written = new AtomicBoolean();
    Path file = folder.resolve("busy.zip");
    Backup.write(
        busy,
        file,
        (table, share) -> {
          if (written.compareAndSet(false, true)) {
            write(busy, "DELETE FROM sample", "UPDATE soak SET samples = 0", FULL);
          }
        });
    assertThat(written).isTrue();
    assertThat(StoredRows.of(busy)).isNotEqualTo(before);
    assertSame(StoredRows.of(restored(file)), before);
  }

  private static void write(DatabaseSettings settings, String... statements) {
    try {
      StoredRows.change(settings, statements);
    } catch (SQLException e) {
      throw new IllegalStateException(e);
    }
  }

  @Test
  void aStoreThatHoldsSomethingIsLeftAsItIsAndWhatItHoldsIsSaid() throws Exception {
    DatabaseSettings other = SharedServer.empty();
    StoredRows.change(other, FULL);
    assertThatThrownBy(() -> Restore.into(other, ofToday, SILENT))
        .isInstanceOf(StoreException.class)
        .hasMessageContaining("is not empty: it holds 1 rows of stale; name another");
    assertThat(StoredRows.of(other).get("stale")).hasSize(1);
    assertThat(StoredRows.of(other).get("soak")).isEmpty();
  }

  @Test
  void oneThatIsRestoredAlreadyIsToldSo() throws Exception {
    assertThatThrownBy(() -> Restore.into(store, ofToday, SILENT))
        .hasMessageContaining("holds as many rows in each table");
  }

  @Test
  void aStoreOnWhichAServiceHasOnlyStartedIsEmpty() throws Exception {
    DatabaseSettings started = SharedServer.empty();
    try (Database database = Database.open(started)) {
      new SoakWatch(database.soakStore(), null, () -> 0).restore();
      assertThat(database.archive().limitsHistory(9)).hasSize(1);
      assertThatThrownBy(() -> Restore.into(started, ofToday, SILENT))
          .hasMessageContaining("a Soakbench writes to")
          .hasMessageContaining("stop it first");
    }
    Restore.into(started, ofToday, SILENT);
    assertSame(StoredRows.of(started), StoredRows.of(store));
  }

  @Test
  void tablesNewerThanTheBackupAreNotTakenBack() {
    assertThatThrownBy(() -> Restore.into(SharedServer.empty(), ofSchema14, SILENT))
        .hasMessageContaining("is empty, but its tables are of schema")
        .hasMessageContaining("and the backup of 14");
  }

  @Test
  void whereTheDatabaseRefusesARowNothingIsRestoredAndItCanBeTriedAgain() throws Exception {
    DatabaseSettings target = SharedServer.empty();
    StoredRows.change(target, "ALTER TABLE sample ADD CONSTRAINT none CHECK (false)");
    assertThatThrownBy(() -> Restore.into(target, ofToday, SILENT))
        .isInstanceOf(StoreException.class)
        .hasMessageContaining("refused restoring " + ofToday);
    assertThat(StoredRows.of(target).values()).allMatch(List::isEmpty);
    StoredRows.change(target, "ALTER TABLE sample DROP CONSTRAINT none");
    Restore.into(target, ofToday, SILENT);
    assertSame(StoredRows.of(target), StoredRows.of(store));
  }

  @Test
  void rowsThatDidNotArriveAreMissed() throws Exception {
    DatabaseSettings target = SharedServer.empty();
    StoredRows.change(
        target,
        "CREATE FUNCTION swallow() RETURNS trigger LANGUAGE plpgsql AS 'BEGIN RETURN NULL; END'",
        "CREATE TRIGGER swallow BEFORE INSERT ON soak FOR EACH ROW EXECUTE FUNCTION swallow()");
    assertThatThrownBy(() -> Restore.into(target, ofToday, SILENT))
        .hasMessageContaining("table \"soak\" got 0 rows in place of the 4");
    assertThat(StoredRows.of(target).values()).allMatch(List::isEmpty);
  }

  @Test
  void onlyItsOwnerCanReadItAndAnEarlierOneIsReplacedWhole() throws Exception {
    Path file = folder.resolve("nightly.zip");
    Backup.write(store, file, SILENT);
    byte[] first = Files.readAllBytes(file);
    assertThat(PosixFilePermissions.toString(Files.getPosixFilePermissions(file)))
        .isEqualTo("rw-------");
    ObjDoubleConsumer<String> breaks =
        (table, share) -> {
          throw new StoreException("the cable was pulled", null, true);
        };
    assertThatThrownBy(() -> Backup.write(store, file, breaks)).hasMessageContaining("cable");
    assertThat(Files.readAllBytes(file)).isEqualTo(first);
    Files.writeString(folder.resolve("nightly.zip.unfinished"), "x".repeat(1 << 20));
    Backup.write(store, file, SILENT);
    assertThat(file.resolveSibling("nightly.zip.unfinished")).doesNotExist();
    Restore.check(file, SILENT);
  }

  @Test
  void whatIsNoBackupIsNotWrittenOver() throws Exception {
    Path notes = Files.writeString(folder.resolve("notes.txt"), "Tuesday: bench 3 is warm\n");
    assertThatThrownBy(() -> Backup.write(store, notes, SILENT))
        .hasMessageContaining("notes.txt is no backup of Soakbench")
        .hasMessageContaining("not written over");
    assertThat(notes).hasContent("Tuesday: bench 3 is warm\n");
    assertThatThrownBy(() -> Backup.write(store, folder, SILENT))
        .hasMessageContaining("is a folder");
    Path nowhere = folder.resolve("not-made").resolve("nightly.zip");
    assertThatThrownBy(() -> Backup.write(store, nowhere, SILENT))
        .hasMessageEndingWith("not-made is no folder; make it first, or name another");
  }

  @Test
  void twoThatWriteTheSameFileDoNotMixTheirBytes() throws Exception {
    Path file = folder.resolve("both.zip");
    List<Throwable> second = new ArrayList<>();
    Backup.write(
        store,
        file,
        (table, share) -> {
          if (second.isEmpty()) {
            try {
              Backup.write(store, file, SILENT);
              second.add(new AssertionError("wrote beside the other"));
            } catch (Exception e) {
              second.add(e);
            }
          }
        });
    assertThat(second.get(0)).hasMessageContaining("is just being written by another program");
    Restore.check(file, SILENT);
  }

  @Test
  void whereNothingIsStoredThereIsNothingToBackUp() {
    Path none = folder.resolve("none");
    Path file = folder.resolve("none.zip");
    assertThatThrownBy(() -> Backup.write(DatabaseSettings.embedded(none), file, SILENT))
        .hasMessageContaining("holds no data of Soakbench");
    assertThat(none).doesNotExist();
    assertThatThrownBy(() -> Backup.write(SharedServer.bare(), file, SILENT))
        .hasMessageContaining("holds no tables of Soakbench");
    assertThat(file).doesNotExist();
  }
}
