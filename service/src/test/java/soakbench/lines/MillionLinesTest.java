package soakbench.lines;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;

import java.lang.management.ManagementFactory;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Whatever comes in by a port: no exception escapes, every line is counted, memory stays flat. */
class MillionLinesTest {
  private static final int MILLION = 1_000_000;
  private static final int FEWER = 100_000;

  /** What live data may grow by after the first tenth, bytes. */
  private static final long FLAT = 2 << 20;

  private static final PatternSpec PATTERN =
      new PatternSpec(PatternFormTest.PATTERN, Map.of("temp_c", 1.0), Map.of());

  private static final byte[][] GOOD =
      Stream.of(
              "{\"id\":\"T-0412\",\"seq\":12,\"t_ms\":60000,\"temp_c\":24.31,"
                  + "\"gyro_dps\":[0.31,-0.12,0.05],\"accel_g\":[0.0,0.0,1.0]}",
              "{\"id\":\"T-0412\",\"time\":\"2026-01-31T12:00:00.020Z\",\"temp_c\":24.31,"
                  + "\"gyro_rads\":[0.0054,-0.0021,0.0009],\"accel_ms2\":[0.0,0.1,9.81]}",
              "{\"t_ms\":60000,\"boot\":\"b7\",\"temp_c\":24.31,\"more\":{\"a\":[1,\"x\"]}}",
              "id,seq,t_ms,temp_c,gx_dps,gy_dps,gz_dps,ax_g,ay_g,az_g",
              "T-0412,12,60000,24.31,0.31,-0.12,0.05,0.0,0.0,1.0",
              "T-0412,13,60020,24.32,0.30,-0.11,0.05,,,",
              "#12 @60000 T=24.31 G=0.31/-0.12/0.05 A=0.0/0.01/1.0",
              "#13 @60020 T=24.31 G=0.31/-0.12/0.05")
          .map(line -> line.getBytes(UTF_8))
          .toArray(byte[][]::new);

  /** Counts what comes and looks at each reading. */
  private static final class Fed {
    final LineCounters counters = new LineCounters();
    final LineReader reader;
    long fed;
    long sane;
    long insane;

    Fed(PatternSpec pattern) {
      reader = new LineReader(counters, this::take, pattern);
    }

    private Rejection take(Reading r) {
      if (isSane(r)) {
        sane++;
      } else {
        insane++;
      }
      return null;
    }

    void line(byte[] line) {
      fed += isBlank(line) ? 0 : 1;
      reader.feed(line, 0, line.length);
      reader.feed(new byte[] {'\n'}, 0, 1);
    }
  }

  private static boolean isSane(Reading r) {
    boolean temperature = !r.hasTemperature() || within(r.temperatureC(), -40, 125);
    boolean rates =
        !r.hasRates()
            || within(r.channels().gxDps(), -4000, 4000)
                && within(r.channels().gyDps(), -4000, 4000)
                && within(r.channels().gzDps(), -4000, 4000);
    boolean accel =
        Float.isNaN(r.channels().axG())
            || within(r.channels().axG(), -64, 64) && within(r.channels().azG(), -64, 64);
    return temperature && rates && accel && (r.hasRates() || r.hasTemperature());
  }

  private static boolean within(float value, double low, double high) {
    return value >= low && value <= high;
  }

  /** Only blanks, perhaps after a byte order mark. */
  private static boolean isBlank(byte[] line) {
    int from = 0;
    if (line.length >= 3
        && line[0] == (byte) 0xEF
        && line[1] == (byte) 0xBB
        && line[2] == (byte) 0xBF) {
      from = 3;
    }
    for (int i = from; i < line.length; i++) {
      if (line[i] != ' ' && line[i] != '\t' && line[i] != '\r') {
        return false;
      }
    }
    return true;
  }

  private static long liveBytes() {
    ManagementFactory.getMemoryMXBean().gc();
    return ManagementFactory.getMemoryMXBean().getHeapMemoryUsage().getUsed();
  }

  private static LineMutations seeded(String what) {
    long seed = Long.getLong("soakbench.test.seed", System.nanoTime());
    System.out.println("MillionLinesTest, " + what + ": -Dsoakbench.test.seed=" + seed);
    return new LineMutations(seed);
  }

  @Test
  void linesOfGarbageAreCountedAndNothingElse() {
    garbage(FEWER);
  }

  @Test
  @Tag("bench")
  void aMillionLinesOfGarbageAreCountedAndNothingElse() {
    garbage(MILLION);
  }

  private static void garbage(int count) {
    LineMutations lines = seeded("garbage");
    Fed own = new Fed(PATTERN);
    Fed usual = new Fed(null);
    long liveBytes = 0;
    for (int i = 0; i < count; i++) {
      byte[] line = lines.garbage();
      usual.line(line);
      if (i % 4 == 0) {
        own.line(line);
      }
      liveBytes = i == count / 10 ? liveBytes() : liveBytes;
    }
    accounted(usual);
    accounted(own);
    assertThat(liveBytes() - liveBytes).as("growth of live data, bytes").isLessThan(FLAT);
  }

  @Test
  void mutatedLinesGiveSaneReadingsOrAReason() {
    mutated(FEWER);
  }

  @Test
  @Tag("bench")
  void aMillionMutatedLinesGiveSaneReadingsOrAReason() {
    mutated(MILLION);
  }

  private static void mutated(int count) {
    LineMutations lines = seeded("mutated");
    Fed own = new Fed(PATTERN);
    Fed usual = new Fed(null);
    long liveBytes = 0;
    for (int i = 0; i < count; i++) {
      byte[] line = lines.mutated(GOOD);
      usual.line(line);
      if (i % 4 == 0) {
        own.line(line);
      }
      liveBytes = i == count / 10 ? liveBytes() : liveBytes;
    }
    accounted(usual);
    accounted(own);
    assertThat(usual.sane).as("lines that a change left good").isGreaterThan(count / 50);
    assertThat(own.sane).as("lines that the pattern still matches").isGreaterThan(count / 1000);
    assertThat(liveBytes() - liveBytes).as("growth of live data, bytes").isLessThan(FLAT);
  }

  private static void accounted(Fed fed) {
    LineCounts counts = fed.counters.snapshot();
    assertThat(counts.lines()).isEqualTo(fed.fed);
    assertThat(counts.readings()).isEqualTo(fed.sane);
    assertThat(fed.insane).isZero();
    assertThat(counts.readings() + counts.headers() + counts.rejectedTotal())
        .isEqualTo(counts.lines());
  }

  /** Every good line, cut in three at every pair of places, each part a line of its own. */
  @ParameterizedTest
  @ValueSource(ints = {0, 1, 2, 3, 4, 5, 6, 7})
  void everyExampleCutAtEveryPairOfPlacesIsCounted(int example) {
    byte[] line = GOOD[example];
    for (PatternSpec pattern : new PatternSpec[] {null, PATTERN}) {
      Fed fed = new Fed(pattern);
      for (int a = 0; a <= line.length; a++) {
        for (int b = a; b <= line.length; b++) {
          fed.line(part(line, 0, a));
          fed.line(part(line, a, b));
          fed.line(part(line, b, line.length));
        }
      }
      accounted(fed);
    }
  }

  /** The same line, its bytes coming in three portions: it is one line all the same. */
  @ParameterizedTest
  @ValueSource(ints = {0, 1, 2, 4, 5, 6, 7})
  void everyExampleThatComesInThreePortionsIsOneLine(int example) {
    byte[] line = new String(GOOD[example], UTF_8).concat("\r\n").getBytes(UTF_8);
    boolean own = GOOD[example][0] == '#';
    for (int a = 0; a <= line.length; a++) {
      for (int b = a; b <= line.length; b++) {
        Fed fed = new Fed(own ? PATTERN : null);
        fed.reader.presetHeader(new String(GOOD[3], UTF_8));
        fed.reader.feed(line, 0, a);
        fed.reader.feed(line, a, b - a);
        fed.reader.feed(line, b, line.length - b);
        assertThat(fed.sane).as("cut at %d and %d", a, b).isEqualTo(1);
      }
    }
  }

  private static byte[] part(byte[] line, int from, int to) {
    byte[] part = new byte[to - from];
    System.arraycopy(line, from, part, 0, part.length);
    return part;
  }
}
