package soakbench.ingest.identity;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import soakbench.ingest.rackfile.LineSettings;
import soakbench.ingest.source.SourceReader;
import soakbench.lines.Rejection.Kind;
import soakbench.model.Sample;

class SampleStamperTest {
  private static final long READ_US = 1_770_000_000_000_000L;

  private final List<Sample> samples = new ArrayList<>();
  private final SourceReader reader = new SourceReader(LineSettings.NONE, samples::add);

  private void read(long atUs, String text) {
    byte[] bytes = text.getBytes(UTF_8);
    reader.feed(bytes, bytes.length, READ_US + atUs);
  }

  private List<Long> times() {
    return samples.stream().map(s -> s.timeUs() - READ_US).toList();
  }

  @Test
  void withoutAnyTimeItIsTheArrivalAndLinesReadTogetherStillRise() {
    String line = "{\"id\":\"T-1\",\"gyro_dps\":[1,2,3]}\n";
    read(0, line + line + line);
    read(20_000, line);
    read(20_000, line);
    assertThat(times()).containsExactly(0L, 1L, 2L, 20_000L, 20_001L);
  }

  @Test
  void theLinesOwnArrivalGoesBeforeWhenItWasRead() {
    read(
        9_000_000,
        "{\"id\":\"T-1\",\"arrival\":\"2026-02-02T02:40:00.5Z\",\"gyro_dps\":[1,2,3]}\n");
    assertThat(times()).containsExactly(500_000L);
  }

  @Test
  void trackersOnOneSourceHaveClocksOfTheirOwn() {
    for (int i = 0; i < 3; i++) {
      read(
          i * 100_000,
          "{\"id\":\"T-1\",\"t_ms\":%d,\"gyro_dps\":[1,2,3]}\n".formatted(5000 + 100 * i)
              + "{\"id\":\"T-2\",\"t_ms\":%d,\"gyro_dps\":[1,2,3]}\n".formatted(900_000 + 100 * i));
    }
    assertThat(times()).containsExactly(0L, 0L, 100_000L, 100_000L, 200_000L, 200_000L);
    assertThat(reader.trackers()).containsExactly("T-1", "T-2");
  }

  @Test
  void aLineSentTwiceIsDroppedButOneWithTheSameMillisecondIsNot() {
    String line = "{\"id\":\"T-1\",\"seq\":%d,\"t_ms\":5000,\"gyro_dps\":[1,2,3]}\n";
    read(0, line.formatted(1) + line.formatted(1) + line.formatted(2));
    assertThat(times()).containsExactly(0L, 1L);
    assertThat(reader.counts().of(Kind.NOT_RISING)).isEqualTo(1);
  }

  @Test
  void aRepeatedTemperatureAndRatesPairIsDropped() {
    String pair =
        "{\"id\":\"T-1\",\"t_ms\":5000,\"temp_c\":20}\n"
            + "{\"id\":\"T-1\",\"t_ms\":5000,\"gyro_dps\":[1,2,3]}\n";
    read(0, pair);
    assertThat(samples).hasSize(1);
    assertThat(samples.get(0).measuredTemperature()).isTrue();
    assertThat(times()).containsExactly(0L);
  }

  @Test
  void garbledIdsCannotFillTheMemory() {
    for (int i = 0; i < 1000; i++) {
      read(i, "{\"id\":\"X" + i + "\",\"temp_c\":20}\n");
    }
    assertThat(reader.trackers()).hasSize(256);
    assertThat(reader.counts().of(Kind.BAD_ID)).isEqualTo(744);
  }

  @Test
  void whatStillWaitsGoesOutAtTheEnd() {
    read(0, "{\"id\":\"T-1\",\"time\":\"2026-02-02T02:40:00Z\",\"temp_c\":20}\n");
    assertThat(samples).isEmpty();
    reader.stop();
    assertThat(times()).containsExactly(0L);
  }

  @Test
  void whateverComesEachTrackersTimesRise() {
    long seed = System.nanoTime();
    System.out.println("stamper, seed " + seed);
    Random random = new Random(seed);
    for (int i = 0; i < 50_000; i++) {
      read(i * 10_000L + random.nextInt(50_000), randomLine(random, i));
    }
    reader.stop();
    assertThat(samples.size()).isGreaterThan(10_000);
    TreeMap<String, Long> newest = new TreeMap<>();
    for (Sample sample : samples) {
      Long before = newest.put(sample.tracker(), sample.timeUs());
      assertThat(before == null || before < sample.timeUs()).isTrue();
    }
  }

  private static String randomLine(Random random, int i) {
    StringBuilder line = new StringBuilder("{\"id\":\"T-" + random.nextInt(3) + "\"");
    if (random.nextInt(4) == 0) {
      int second = random.nextInt(20) == 0 ? random.nextInt(3600) : i / 100;
      line.append(
          ",\"time\":\"2026-02-02T%02d:%02d:%02dZ\""
              .formatted(2 + second / 3600 % 20, second / 60 % 60, second % 60));
    }
    if (random.nextBoolean()) {
      long ms = random.nextInt(50) == 0 ? random.nextLong(1L << 32) : i * 10L;
      line.append(",\"t_ms\":").append(ms);
    }
    if (random.nextBoolean()) {
      line.append(",\"temp_c\":20");
    }
    return line + (random.nextBoolean() ? ",\"gyro_dps\":[1,2,3]}\n" : "}\n");
  }

  @Test
  void timesRiseOverThoseOfAnEarlierRunUnlessTheClockWasSetBackByMuch() {
    String line = "{\"id\":\"T-1\",\"t_ms\":%d,\"gyro_dps\":[1,2,3]}\n";
    for (long aheadUs : new long[] {0, 3_000_000, 10_000_000, 10_000_001, 3_600_000_000L}) {
      samples.clear();
      SourceReader next =
          new SourceReader(
              LineSettings.NONE,
              new IdOwners(tracker -> READ_US + aheadUs, samples::add),
              "",
              tracker -> {});
      for (int i = 0; i < 3; i++) {
        byte[] bytes = line.formatted(5000 + 20 * i).getBytes(UTF_8);
        next.feed(bytes, bytes.length, READ_US + 20_000L * i);
      }
      long firstUs = aheadUs <= 10_000_000 ? aheadUs + 1 : 0;
      assertThat(times()).as("%d us ahead", aheadUs).first().isEqualTo(firstUs);
      assertThat(times()).isSorted().doesNotHaveDuplicates().hasSize(3);
    }
  }
}
