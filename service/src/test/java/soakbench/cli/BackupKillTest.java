package soakbench.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import soakbench.store.SharedServer;
import soakbench.store.connection.Query;
import soakbench.store.server.DatabaseSettings;

/** Signal 9 in the middle of a backup, and of putting one back. */
@Timeout(180)
class BackupKillTest {
  private static final int ROWS = 150_000;
  private static final Duration PATIENCE = Duration.ofSeconds(60);

  @TempDir private Path folder;

  private final DatabaseSettings store = SharedServer.empty();
  private final DatabaseSettings target = SharedServer.empty();

  @Test
  void whatIsKilledLeavesNoHalfAndTheNextTryIsWhole() throws Exception {
    change(
        store,
        "INSERT INTO sample (tracker, time, temperature_c, temperature_held)"
            + " SELECT 'rail-' || n % 7, timestamptz '2026-03-01Z' + n * interval '0.1 s',"
            + " 20 + 10 * random(), false FROM generate_series(1, "
            + ROWS
            + ") AS n");
    Path file = folder.resolve("rack.zip");
    killBackup(file);
    assertThat(file).doesNotExist();
    assertThat(file.resolveSibling("rack.zip.unfinished")).exists();
    end(0, "backup", file, store);
    assertThat(file.resolveSibling("rack.zip.unfinished")).doesNotExist();

    killRestore(file);
    assertThat(count(target)).isZero();
    end(0, "restore", file, target);
    assertThat(count(target)).isEqualTo(ROWS);
    assertThat(end(1, "restore", file, target)).contains("holds as many rows in each table");
  }

  private Serving start(String command, Path file, DatabaseSettings settings) throws IOException {
    Path said = folder.resolve(command + ".txt");
    Files.deleteIfExists(said);
    return Serving.command(said, command, file.toString(), "--db", SharedServer.url(settings));
  }

  private String end(int exit, String command, Path file, DatabaseSettings settings)
      throws Exception {
    try (Serving run = start(command, file, settings)) {
      assertThat(run.process.waitFor()).as(run.text()).isEqualTo(exit);
      return run.text();
    }
  }

  private void killBackup(Path file) throws Exception {
    Path unfinished = file.resolveSibling("rack.zip.unfinished");
    try (Serving run = start("backup", file, store)) {
      await()
          .atMost(PATIENCE)
          .pollInterval(Duration.ofMillis(2))
          .until(() -> Files.exists(unfinished) && Files.size(unfinished) > 0);
      run.process.destroyForcibly().waitFor();
    }
  }

  /** All smaller tables are in by the time it sleeps. */
  private void killRestore(Path file) throws Exception {
    change(
        target,
        "CREATE FUNCTION doze() RETURNS trigger LANGUAGE plpgsql"
            + " AS 'BEGIN PERFORM pg_sleep(2); RETURN NULL; END'",
        "CREATE TRIGGER doze BEFORE INSERT ON sample EXECUTE FUNCTION doze()");
    try (Serving run = start("restore", file, target)) {
      await().atMost(PATIENCE).until(() -> others("wait_event = 'PgSleep'") == 1);
      run.process.destroyForcibly().waitFor();
    }
    await().atMost(PATIENCE).until(() -> others("true") == 0);
    change(target, "DROP TRIGGER doze ON sample");
  }

  private long others(String which) throws SQLException {
    return number(
        target,
        "SELECT count(*) FROM pg_stat_activity WHERE datname = current_database()"
            + " AND pid <> pg_backend_pid() AND "
            + which);
  }

  private static long count(DatabaseSettings settings) throws SQLException {
    return number(settings, "SELECT count(*) FROM sample");
  }

  private static long number(DatabaseSettings settings, String sql) throws SQLException {
    try (Connection c = SharedServer.connect(settings)) {
      return Query.first(c, r -> r.getLong(1), sql).orElseThrow();
    }
  }

  private static void change(DatabaseSettings settings, String... statements) throws SQLException {
    try (Connection c = SharedServer.connect(settings);
        Statement statement = c.createStatement()) {
      for (String sql : statements) {
        statement.execute(sql);
      }
    }
  }
}
