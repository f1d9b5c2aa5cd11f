package soakbench.ingest.spool;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.io.RandomAccessFile;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.sql.Connection;
import java.sql.DriverManager;
import java.util.HashSet;
import java.util.List;
import java.util.Random;
import java.util.Set;
import java.util.TreeSet;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.model.Sample;

/** Spools that a disk or a person has spoilt: what is good in them is kept, nothing is invented. */
class SpoolDamageTest {
  private static final int SAMPLES = 3000;
  private static final int PAGE_BYTES = 4096;
  private static final long LIMIT_BYTES = 1 << 26;

  @TempDir private Path folder;
  private Path file;

  @BeforeEach
  void fill() {
    file = folder.resolve("spool.db");
    try (SqliteSpool spool = SqliteSpool.open(file, LIMIT_BYTES)) {
      for (int i = 0; i < SAMPLES; i += 100) {
        spool.append(SpooledSamples.of(i, 100));
      }
    }
  }

  private Path aside() {
    return folder.resolve("spool.db.broken-1");
  }

  /** Opens it, holds what is in it against what was, appends one more; how many were left. */
  private int reopened() {
    return reopened(file);
  }

  private static int reopened(Path spoolFile) {
    try (SqliteSpool spool = SqliteSpool.open(spoolFile, LIMIT_BYTES)) {
      List<Sample> left = SpooledSamples.samples(spool.oldest(2 * SAMPLES));
      Set<Sample> all = new HashSet<>(SpooledSamples.of(0, SAMPLES));
      assertThat(all.containsAll(left)).as("no sample that was never written").isTrue();
      List<Long> times = left.stream().map(Sample::timeUs).toList();
      assertThat(times).isEqualTo(List.copyOf(new TreeSet<>(times)));
      spool.append(SpooledSamples.of(SAMPLES, 1));
      List<Spool.Entry> after = spool.oldest(2 * SAMPLES);
      assertThat(after).hasSize(left.size() + 1);
      assertThat(after.get(left.size()).sample()).isEqualTo(SpooledSamples.sample(SAMPLES));
      spool.settle(Long.MAX_VALUE, List.of());
      assertThat(spool.oldest(1)).isEmpty();
      return left.size();
    }
  }

  @ParameterizedTest
  @ValueSource(ints = {50, 99, 100, 4096, 8192, 100_000, 200_000})
  void aFileCutShortGivesUpItsTailOnly(int bytes) throws IOException {
    try (RandomAccessFile cut = new RandomAccessFile(file.toFile(), "rw")) {
      assertThat(cut.length()).isGreaterThan(bytes);
      cut.setLength(bytes);
    }
    int left = reopened();
    assertThat(aside()).hasSize(bytes);
    int wholePages = bytes / PAGE_BYTES;
    assertThat(left).isGreaterThanOrEqualTo(Math.max(0, wholePages - 8) * 30);
  }

  @Test
  void aFlippedBitAnywhereCostsAPageAtMostUnlessItIsTheTreesOwn() throws IOException {
    long seed = Long.getLong("soakbench.test.seed", System.nanoTime());
    System.out.println("SpoolDamageTest: -Dsoakbench.test.seed=" + seed);
    Random random = new Random(seed);
    int costly = 0;
    int rounds = 40;
    for (int round = 0; round < rounds; round++) {
      Path copy = folder.resolve("copy-" + round + ".db");
      Files.copy(file, copy, StandardCopyOption.REPLACE_EXISTING);
      flip(copy, PAGE_BYTES + random.nextInt((int) Files.size(file) - PAGE_BYTES), random);
      int left = reopened(copy);
      costly += left < SAMPLES - 100 ? 1 : 0;
      assertThat(left).isGreaterThanOrEqualTo(0);
    }
    // One of 60 pages leads to all the others (a bit flipped twice in every page: 1 of 118 cost
    // more than a page), so that 40 rounds hit it 0.7 times on average at most, and four times and
    // more in less than one run of 150 (Poisson).
    assertThat(costly).as("rounds that lost more than a page").isLessThanOrEqualTo(3);
  }

  @Test
  void aFlippedBitInTheHeaderIsSurvived() throws IOException {
    Random random = new Random(3);
    for (int at = 0; at < 100; at += 3) {
      Path copy = folder.resolve("copy-" + at + ".db");
      Files.copy(file, copy);
      flip(copy, at, random);
      reopened(copy);
    }
  }

  @Test
  void manyDamagedPagesCostNoMoreThanThemselves() throws IOException {
    Random random = new Random(5);
    try (RandomAccessFile spoilt = new RandomAccessFile(file.toFile(), "rw")) {
      byte[] noise = new byte[PAGE_BYTES];
      for (int page = 20; page < 60; page += 10) {
        random.nextBytes(noise);
        spoilt.seek((long) page * PAGE_BYTES);
        spoilt.write(noise);
      }
    }
    assertThat(reopened()).isGreaterThan(SAMPLES - 4 * 80);
    assertThat(aside()).exists();
  }

  @Test
  void damageThatShowsWhileItIsInUseIsSurvivedToo() throws IOException {
    // More than SQLite keeps in memory, so that it reads the damaged pages anew.
    int count = 40_000;
    Path large = folder.resolve("large.db");
    try (SqliteSpool spool = SqliteSpool.open(large, LIMIT_BYTES)) {
      spool.append(SpooledSamples.of(0, count));
    }
    try (SqliteSpool spool = SqliteSpool.open(large, LIMIT_BYTES)) {
      try (RandomAccessFile spoilt = new RandomAccessFile(large.toFile(), "rw")) {
        spoilt.seek(40L * PAGE_BYTES);
        spoilt.write(new byte[2 * PAGE_BYTES]);
      }
      List<Sample> left = SpooledSamples.samples(spool.oldest(2 * count));
      assertThat(left.size()).isBetween(count - 300, count - 1);
      assertThat(new HashSet<>(SpooledSamples.of(0, count)).containsAll(left)).isTrue();
      spool.append(SpooledSamples.of(count, 10));
      assertThat(spool.status().waiting()).isEqualTo(left.size() + 10);
    }
    assertThat(folder.resolve("large.db.broken-1")).exists();
  }

  @Test
  void aRowThatIsNotWhatWasWrittenIsLeftOutAndCounted() throws Exception {
    change("UPDATE sample SET gx_dps = gx_dps + 1 WHERE id IN (1, 17, 2000)");
    try (SqliteSpool spool = SqliteSpool.open(file, LIMIT_BYTES)) {
      List<Spool.Entry> left = spool.oldest(2 * SAMPLES);
      assertThat(left).extracting(Spool.Entry::id).doesNotContain(1L, 17L, 2000L);
      assertThat(left).hasSize(SAMPLES - 3);
      assertThat(spool.status().damaged()).isEqualTo(3);
      assertThat(spool.status().waiting()).isEqualTo(SAMPLES - 3);
    }
    assertThat(aside()).doesNotExist();
  }

  @ParameterizedTest
  @ValueSource(ints = {0, 2})
  void aFileOfAnotherVersionIsSetAsideAndItsSamplesTakenOver(int version) throws Exception {
    change("PRAGMA user_version = " + version);
    assertThat(reopened()).isEqualTo(SAMPLES);
    assertThat(aside()).exists();
  }

  @Test
  void aFileOfAnOlderVersionWithOtherTablesIsSetAside() throws Exception {
    change("PRAGMA user_version = 0");
    change("ALTER TABLE sample RENAME COLUMN gx_dps TO rate_x");
    assertThat(reopened()).isZero();
    assertThat(aside()).exists();
  }

  @Test
  void aFileOfZerosIsSetAside() throws IOException {
    Files.write(file, new byte[20_000]);
    assertThat(reopened()).isZero();
    assertThat(aside()).hasSize(20_000);
  }

  @Test
  void whatIsPlainlySomethingElseIsRefusedAndNotTouched() throws Exception {
    Path text = Files.writeString(folder.resolve("rack.yaml"), "rack: A\nslots: {}\n");
    assertRefused(text);
    assertThat(text).hasContent("rack: A\nslots: {}\n");
    Path other = folder.resolve("other.db");
    try (Connection c = DriverManager.getConnection("jdbc:sqlite:" + other)) {
      c.createStatement().execute("CREATE TABLE theirs (x)");
    }
    assertRefused(other);
    assertRefused(folder);
  }

  private static void assertRefused(Path file) {
    assertThatThrownBy(() -> SqliteSpool.open(file, LIMIT_BYTES))
        .hasMessage(file + " is not a spool of this program; name another file with --spool");
  }

  @Test
  void aRescueThatWasCutOffIsFinishedOrDoneAgain() throws IOException {
    Path next = folder.resolve("spool.db.new");
    Files.writeString(next, "half", StandardCharsets.US_ASCII);
    assertThat(reopened()).isEqualTo(SAMPLES);
    assertThat(next).doesNotExist();

    fill();
    Files.move(file, next);
    assertThat(reopened()).isEqualTo(SAMPLES);
    assertThat(next).doesNotExist();
  }

  private void change(String sql) throws Exception {
    try (Connection connection = DriverManager.getConnection("jdbc:sqlite:" + file)) {
      connection.createStatement().execute(sql);
    }
  }

  private static void flip(Path file, int at, Random random) throws IOException {
    try (RandomAccessFile spoilt = new RandomAccessFile(file.toFile(), "rw")) {
      spoilt.seek(at);
      int value = spoilt.read();
      spoilt.seek(at);
      spoilt.write(value ^ 1 << random.nextInt(8));
    }
  }
}
