package soakbench.ingest.spool;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import soakbench.SmallDisk;
import soakbench.model.Sample;

class SqliteSpoolTest {
  private static final long LIMIT_BYTES = 1 << 24;

  @TempDir private Path folder;
  private Path file;

  @BeforeEach
  void name() {
    file = folder.resolve("spool.db");
  }

  private SqliteSpool open() {
    return SqliteSpool.open(file, LIMIT_BYTES);
  }

  @Test
  void whatGoesInComesOutEqualAndInOrderAlsoAfterReopening() {
    List<Sample> all = SpooledSamples.of(0, 3000);
    try (SqliteSpool spool = open()) {
      spool.append(all.subList(0, 1));
      spool.append(all.subList(1, 2000));
    }
    try (SqliteSpool spool = open()) {
      spool.append(all.subList(2000, 3000));
      assertThat(SpooledSamples.samples(spool.oldest(10_000))).isEqualTo(all);
      assertThat(spool.oldest(10_000)).extracting(Spool.Entry::id).isSorted();
      assertThat(spool.status().waiting()).isEqualTo(3000);
    }
  }

  @Test
  void aNegativeZeroLosesItsSignAndNothingElse() {
    try (SqliteSpool spool = open()) {
      spool.append(List.of(SpooledSamples.sample(1).withTemperatureC(-0f)));
      assertThat(SpooledSamples.samples(spool.oldest(9)))
          .containsExactly(SpooledSamples.sample(1).withTemperatureC(0f));
    }
  }

  @Test
  void whatIsSettledIsGoneAndTheRestStays() {
    try (SqliteSpool spool = open()) {
      spool.append(SpooledSamples.of(0, 100));
      List<Spool.Entry> first = spool.oldest(40);
      spool.settle(first.get(39).id(), List.of());
      assertThat(spool.status().waiting()).isEqualTo(60);
      assertThat(SpooledSamples.samples(spool.oldest(100))).isEqualTo(SpooledSamples.of(40, 60));
    }
    try (SqliteSpool spool = open()) {
      assertThat(SpooledSamples.samples(spool.oldest(100))).isEqualTo(SpooledSamples.of(40, 60));
      spool.settle(Long.MAX_VALUE, List.of());
      assertThat(spool.oldest(100)).isEmpty();
    }
    try (SqliteSpool spool = open()) {
      spool.append(SpooledSamples.of(100, 1));
      assertThat(spool.oldest(1).get(0).id()).as("ids go on").isEqualTo(101);
    }
  }

  @Test
  void refusedSamplesAreSetAsideWithTheirReasonAndNoLongerSent() throws SQLException {
    try (SqliteSpool spool = open()) {
      spool.append(SpooledSamples.of(0, 10));
      List<Spool.Entry> all = spool.oldest(10);
      spool.settle(all.get(9).id(), List.of(new Spool.Refused(all.get(4), "too far ahead")));
      assertThat(spool.status().waiting()).isZero();
      assertThat(spool.status().refused()).isEqualTo(1);
      assertThat(spool.oldest(10)).isEmpty();
    }
    try (Connection other = DriverManager.getConnection("jdbc:sqlite:" + file);
        var rows = other.createStatement().executeQuery("SELECT tracker, reason FROM refused")) {
      assertThat(rows.next()).isTrue();
      assertThat(rows.getString(1)).isEqualTo("T-4");
      assertThat(rows.getString(2)).isEqualTo("too far ahead");
    }
  }

  @Test
  void whatWasRefusedCanBeSentOnceMoreAfterWhatWaits() {
    try (SqliteSpool spool = open()) {
      spool.append(SpooledSamples.of(0, 10));
      List<Spool.Entry> all = spool.oldest(10);
      spool.settle(
          all.get(9).id(),
          List.of(new Spool.Refused(all.get(4), "no"), new Spool.Refused(all.get(7), "no")));
      spool.append(SpooledSamples.of(10, 2));
      assertThat(spool.retryRefused()).isEqualTo(2);
      assertThat(spool.status().refused()).isZero();
      assertThat(spool.status().waiting()).isEqualTo(4);
    }
    try (SqliteSpool spool = open()) {
      assertThat(SpooledSamples.samples(spool.oldest(100)))
          .containsExactly(
              SpooledSamples.sample(10),
              SpooledSamples.sample(11),
              SpooledSamples.sample(4),
              SpooledSamples.sample(7));
      spool.append(SpooledSamples.of(12, 1));
      assertThat(spool.oldest(100)).extracting(Spool.Entry::id).isSorted().endsWith(15L);
    }
  }

  @Test
  void itRemembersTheNewestTimeOfEachTrackerWhenItsSamplesHaveGone() {
    try (SqliteSpool spool = open()) {
      spool.append(SpooledSamples.of(0, 20));
      spool.settle(Long.MAX_VALUE, List.of());
    }
    try (SqliteSpool spool = open()) {
      assertThat(spool.newestUs("T-4")).isEqualTo(SpooledSamples.sample(19).timeUs());
      assertThat(spool.newestUs("T-0")).isEqualTo(SpooledSamples.sample(15).timeUs());
      assertThat(spool.newestUs("never")).isEqualTo(Long.MIN_VALUE);
    }
  }

  @Test
  void whenItIsFullItRefusesUntilSomeHaveGoneAndTheFileStaysThatSmall() throws Exception {
    long limit = 1 << 20;
    try (SqliteSpool spool = SqliteSpool.open(file, limit)) {
      int number = 0;
      for (int round = 0; round < 3; round++) {
        while (spool.status().usedBytes() < limit) {
          spool.append(SpooledSamples.of(number, 500));
          number += 500;
        }
        long waiting = spool.status().waiting();
        assertThatThrownBy(() -> spool.append(SpooledSamples.of(0, 1)))
            .isInstanceOf(SpoolException.class)
            .hasMessage(
                "the spool %s is full: %d samples wait in 1 MiB; what comes now is lost until some"
                    + " are stored",
                file, waiting);
        spool.settle(spool.oldest(4000).get(3999).id(), List.of());
        assertThat(spool.status().waiting()).isEqualTo(waiting - 4000);
      }
      assertThat(number).isGreaterThan(15_000);
      assertThat(Files.size(file)).isLessThan(limit + 200 * 1024);
    }
  }

  @Test
  void anotherOpeningIsRefusedAndTheFirstGoesOn() throws Exception {
    try (SqliteSpool spool = open()) {
      assertThatThrownBy(this::open)
          .hasMessage(
              "the spool %s is in use by another copy of this program (process %d, this one); stop"
                  + " it, or name another file with --spool",
              file, ProcessHandle.current().pid());
      spool.append(SpooledSamples.of(0, 1));
      assertThat(spool.oldest(9)).hasSize(1);
    }
    open().close();
  }

  @Test
  void othersMayLookAtItWhileItIsInUse() throws Exception {
    try (SqliteSpool spool = open();
        Connection other = DriverManager.getConnection("jdbc:sqlite:" + file)) {
      spool.append(SpooledSamples.of(0, 7));
      try (var rows = other.createStatement().executeQuery("SELECT count(*) FROM sample")) {
        rows.next();
        assertThat(rows.getInt(1)).isEqualTo(7);
        spool.append(SpooledSamples.of(7, 1));
      }
    }
  }

  @Test
  void howItStandsAndTheNewestTimesAreToldWhileTheDiskIsWaitedFor() throws Exception {
    try (SqliteSpool spool = open();
        Connection other = DriverManager.getConnection("jdbc:sqlite:" + file)) {
      spool.append(SpooledSamples.of(0, 7));
      other.createStatement().execute("BEGIN IMMEDIATE");
      Thread appending = new Thread(() -> spool.append(SpooledSamples.of(7, 3)), "appending");
      appending.start();
      await().until(() -> isInTheDatabase(appending));
      CompletableFuture<Spool.Status> status = CompletableFuture.supplyAsync(spool::status);
      CompletableFuture<Long> newest = CompletableFuture.supplyAsync(() -> spool.newestUs("T-1"));
      assertThat(status.get(3, TimeUnit.SECONDS).waiting()).isEqualTo(7);
      assertThat(newest.get(3, TimeUnit.SECONDS)).isEqualTo(SpooledSamples.sample(6).timeUs());
      assertThat(isInTheDatabase(appending)).as("still waits").isTrue();
      other.createStatement().execute("ROLLBACK");
      appending.join();
      assertThat(spool.status().waiting()).isEqualTo(10);
      assertThat(spool.newestUs("T-4")).isEqualTo(SpooledSamples.sample(9).timeUs());
    }
    try (SqliteSpool spool = open()) {
      assertThat(spool.status().waiting()).isEqualTo(10);
      assertThat(spool.newestUs("T-4")).isEqualTo(SpooledSamples.sample(9).timeUs());
    }
  }

  private static boolean isInTheDatabase(Thread thread) {
    return Stream.of(thread.getStackTrace()).anyMatch(f -> f.getClassName().contains("sqlite"));
  }

  @Test
  void aFolderThatMayOnlyBeReadIsOneSentence() throws Exception {
    Path closed = Files.createDirectory(folder.resolve("closed"));
    Path inIt = closed.resolve("spool.db");
    if (SmallDisk.isRoot()) {
      try (SmallDisk disk = SmallDisk.mounted(closed, "size=1m,ro")) {
        assertUnusable(inIt, "Read-only file system");
      }
    } else {
      Files.setPosixFilePermissions(closed, PosixFilePermissions.fromString("r-x------"));
      assertUnusable(inIt, "may not write there");
    }
  }

  private static void assertUnusable(Path spool, String why) {
    assertThatThrownBy(() -> SqliteSpool.open(spool, LIMIT_BYTES))
        .isInstanceOf(SpoolException.class)
        .hasMessageContainingAll(
            "the spool " + spool + " can't be written (", why, "name another file with --spool");
  }

  @Test
  void aFullDiskIsOneSentenceAndWithRoomItGoesOnWithoutALoss() throws Exception {
    Path small = Files.createDirectory(folder.resolve("small"));
    try (SmallDisk disk = SmallDisk.mounted(small, "size=1m")) {
      Path onIt = small.resolve("spool.db");
      try (SqliteSpool spool = SqliteSpool.open(onIt, LIMIT_BYTES)) {
        Path ballast = Files.write(small.resolve("ballast"), new byte[400 * 1024]);
        int kept = untilRefused(spool, onIt);
        Files.delete(ballast);
        spool.append(SpooledSamples.of(kept, 100));
        assertThat(SpooledSamples.samples(spool.oldest(100_000)))
            .isEqualTo(SpooledSamples.of(0, kept + 100));
      }
    }
  }

  private static int untilRefused(SqliteSpool spool, Path file) {
    int kept = 0;
    while (true) {
      try {
        spool.append(SpooledSamples.of(kept, 100));
        kept += 100;
      } catch (SpoolException e) {
        assertThat(e)
            .hasMessage("the spool %s can't be used: its disk is full; make room on it", file);
        assertThat(spool.status().waiting()).isEqualTo(kept).isGreaterThan(300);
        return kept;
      }
    }
  }

  /** SQLite writes our number into the log of changes first; the file itself has it much later. */
  @Test
  void whatAKillInItsFirstMomentsLeavesIsKnownForOurs() throws Exception {
    Path left = folder.resolve("left.db");
    try (SqliteSpool spool = open()) {
      spool.append(SpooledSamples.of(0, 50));
      Files.copy(file, left);
      Files.copy(file.resolveSibling(file.getFileName() + "-wal"), folder.resolve("left.db-wal"));
    }
    try (SqliteSpool spool = SqliteSpool.open(left, LIMIT_BYTES)) {
      assertThat(SpooledSamples.samples(spool.oldest(100))).isEqualTo(SpooledSamples.of(0, 50));
    }
  }
}
