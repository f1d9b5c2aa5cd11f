package soakbench.store.backup;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.atomic.AtomicBoolean;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import soakbench.live.SoakStore.Unit;
import soakbench.live.StoreException;
import soakbench.model.RackSet;
import soakbench.store.Database;
import soakbench.store.Samples;
import soakbench.store.SharedServer;
import soakbench.store.server.DatabaseSettings;

/** Backups of a store to which two services write, each for racks of its own. */
@Timeout(120)
class BackupBesideTest {
  private static final int AT_ONCE = 50;

  @TempDir private Path folder;

  private static Database writes(DatabaseSettings settings, String rack) {
    Database database = Database.prepared(settings, RackSet.of(List.of(rack)));
    database.openToWrite(step -> {});
    return database;
  }

  private static void write(Database database, String tracker, int round) {
    try (Unit unit = database.soakStore().begin()) {
      unit.writeSamples(Samples.samples(tracker, round * AT_ONCE, (round + 1) * AT_ONCE));
      unit.commit();
    }
  }

  private static long samples(DatabaseSettings settings, String tracker) throws Exception {
    try (Database database = Database.open(settings);
        Unit unit = database.soakStore().beginReading()) {
      return unit.countSamples(tracker, Long.MIN_VALUE, Long.MAX_VALUE);
    }
  }

  @Test
  void whatIsCopiedIsOfOneMomentAndNothingIsRestoredWhileOneOfThemWrites() throws Exception {
    DatabaseSettings settings = SharedServer.empty();
    DatabaseSettings target = SharedServer.empty();
    Path file = folder.resolve("both.zip");
    try (Database ofA = writes(settings, "A");
        Database ofC = writes(settings, "C")) {
      write(ofA, "A-1", 0);
      AtomicBoolean done = new AtomicBoolean();
      CompletableFuture<Integer> writing =
          CompletableFuture.supplyAsync(
              () -> {
                int rounds = 0;
                while (!done.get()) {
                  write(ofC, "C-1", rounds++);
                  write(ofA, "A-1", rounds);
                }
                return rounds;
              });
      Backup.write(
          settings,
          file,
          (table, share) -> {
            // Between two tables both go on.
            long before = written(ofA);
            while (!writing.isDone() && written(ofA) < before + AT_ONCE) {
              Thread.onSpinWait();
            }
          });
      done.set(true);
      assertThat(writing.get()).isGreaterThan(1);
      try (Database ofB = writes(target, "B")) {
        assertThat(ofB.mayWrite()).isTrue();
        assertThatThrownBy(() -> Restore.into(target, file, (words, share) -> {}))
            .isInstanceOf(StoreException.class)
            .hasMessageContainingAll("a Soakbench writes to", "process ", "stop it first");
      }
    }
    Restore.into(target, file, (words, share) -> {});
    long ofA = samples(target, "A-1");
    assertThat(ofA % AT_ONCE).isZero();
    assertThat(ofA - samples(target, "C-1")).isIn(0L, (long) AT_ONCE);
  }

  private static long written(Database database) {
    try (Unit unit = database.soakStore().beginReading()) {
      return unit.countSamples("A-1", Long.MIN_VALUE, Long.MAX_VALUE);
    }
  }
}
