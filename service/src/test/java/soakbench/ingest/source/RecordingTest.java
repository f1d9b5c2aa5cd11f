package soakbench.ingest.source;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.zip.GZIPInputStream;
import java.util.zip.GZIPOutputStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import soakbench.lines.LineCounts;
import soakbench.lines.Rejection.Kind;
import soakbench.model.Sample;

class RecordingTest {
  private static final Path RECORDINGS = Path.of("src", "test", "resources", "recordings");

  @TempDir Path folder;
  private final List<Sample> samples = new ArrayList<>();

  private RecordingSummary read(Path file) throws IOException {
    return Recording.read(file, samples::addAll);
  }

  private RecordingSummary readText(String text) throws IOException {
    return read(Files.writeString(folder.resolve("recording.jsonl"), text));
  }

  // Lines, good lines and lines sent twice were counted in the files by other means.
  @ParameterizedTest
  @CsvSource({
    "T-77000C.jsonl.gz, T-77000C, 35932, 35932, 0",
    "T-77002C.jsonl.gz, T-77002C, 17845, 17845, 0",
    "T-77001N.jsonl.gz, T-77001N, 17885, 17691, 138",
    "T-79000U.csv.gz, T-79000U, 17895, 17888, 0",
  })
  void everyGoodLineBecomesASample(
      String file, String tracker, long lines, long good, long notRising) throws IOException {
    RecordingSummary summary = read(RECORDINGS.resolve(file));
    LineCounts counts = summary.counts();
    assertThat(counts.lines()).isEqualTo(lines);
    assertThat(counts.of(Kind.NOT_RISING)).isEqualTo(notRising);
    assertThat(counts.readings()).isEqualTo(good);
    assertThat(counts.readings() + counts.headers() + counts.rejectedTotal()).isEqualTo(lines);
    assertThat(summary.samples()).isEqualTo(good).isEqualTo(samples.size());
    assertThat(summary.trackers()).containsExactly(tracker);
    assertThat(samples).extracting(Sample::timeUs).isSorted().doesNotHaveDuplicates();
    assertThat(samples).allMatch(s -> s.hasRates() && s.measuredTemperature());
    assertThat(counts.newestTimeUs()).isEqualTo(samples.get(samples.size() - 1).timeUs());
  }

  @Test
  void withoutGzipItIsTheSame() throws IOException {
    Path gzipped = RECORDINGS.resolve("T-79000U.csv.gz");
    read(gzipped);
    List<Sample> fromGzip = List.copyOf(samples);
    samples.clear();
    Path plain = folder.resolve("plain.csv");
    try (GZIPInputStream in = new GZIPInputStream(Files.newInputStream(gzipped))) {
      Files.copy(in, plain);
    }
    read(plain);
    assertThat(samples.equals(fromGzip)).isTrue();
  }

  @Test
  void samplesComeInPieces() throws IOException {
    List<Integer> sizes = new ArrayList<>();
    Recording.read(RECORDINGS.resolve("T-77002C.jsonl.gz"), batch -> sizes.add(batch.size()));
    assertThat(sizes).containsExactly(5000, 5000, 5000, 2845);
  }

  @Test
  void aLineSentTwiceIsHarmless() throws IOException {
    String line = "{\"id\":\"T-1\",\"time\":\"2026-01-31T12:00:0%d.%d00Z\",\"temp_c\":20.%d}\n";
    StringBuilder text = new StringBuilder();
    for (int i = 0; i < 40; i++) {
      text.append(line.formatted(i / 10, i % 10, i)).append(line.formatted(i / 10, i % 10, i));
    }
    RecordingSummary summary = readText(text.toString());
    assertThat(samples).hasSize(40);
    assertThat(summary.counts().of(Kind.NOT_RISING)).isEqualTo(40);
    assertThat(summary.counts().rejected().get(Kind.NOT_RISING).reason())
        .isEqualTo(
            "time 2026-01-31T12:00:03.900Z is not after 2026-01-31T12:00:03.900Z"
                + " of the line before");
  }

  @Test
  void aGarbledTimeInTheFutureDoesNotShutOutTheRest() throws IOException {
    String line = "{\"id\":\"T-1\",\"time\":\"20%d-01-31T12:00:%02d.000Z\",\"temp_c\":20}\n";
    String text =
        line.formatted(96, 0)
            + line.formatted(26, 1)
            + line.formatted(26, 2)
            + line.formatted(62, 3)
            + line.formatted(26, 4)
            + line.formatted(96, 5);
    RecordingSummary summary = readText(text);
    assertThat(summary.counts().of(Kind.BAD_TIME)).isEqualTo(2);
    assertThat(samples)
        .extracting(s -> Instant.ofEpochSecond(s.second()).toString())
        .containsExactly(
            "2026-01-31T12:00:01Z",
            "2026-01-31T12:00:02Z",
            "2026-01-31T12:00:04Z",
            "2096-01-31T12:00:05Z");
  }

  @Test
  void temperatureAndRatesSentApartAtTheSameTimeAreJoined() throws IOException {
    String both =
        "{\"id\":\"T-1\",\"time\":\"2026-01-31T12:00:0%d.000Z\",\"temp_c\":20.%d}\n"
            + "{\"id\":\"T-1\",\"time\":\"2026-01-31T12:00:0%1$d.000Z\",\"gyro_dps\":[1,2,3]}\n";
    RecordingSummary summary =
        readText(both.formatted(0, 0) + both.formatted(1, 1) + both.formatted(1, 1));
    assertThat(samples).hasSize(2);
    assertThat(samples).allMatch(s -> s.hasRates() && s.measuredTemperature());
    assertThat(summary.counts().of(Kind.NOT_RISING)).isEqualTo(2);
  }

  @Test
  void recordedArrivalsAreMappedThroughTheTrackersClock() throws IOException {
    StringBuilder text = new StringBuilder();
    Instant start = Instant.parse("2026-01-31T12:00:00Z");
    for (int i = 0; i < 2000; i++) {
      Instant arrival = start.plusMillis(40L * i + (i * 7919L) % 30);
      text.append(
          "{\"id\":\"T-1\",\"arrival\":\"%s\",\"t_ms\":%d,\"temp_c\":20}\n"
              .formatted(arrival, 3000 + 40 * i));
    }
    readText(text.toString());
    assertThat(samples).hasSize(2000);
    for (int i = 1500; i < 2000; i++) {
      long trueUs = start.getEpochSecond() * 1_000_000 + 40_000L * i;
      assertThat(samples.get(i).timeUs() - trueUs).isBetween(-2000L, 2000L);
    }
  }

  @Test
  void withNothingButTheTrackersClockTimeIsCountedFromTheYear2000() throws IOException {
    String line = "{\"id\":\"T-1\",\"t_ms\":%d,\"temp_c\":20}\n";
    readText(
        line.formatted(4294967000L)
            + line.formatted(4294967200L)
            + line.formatted(104)
            + line.formatted(100)
            + line.formatted(2000104)
            + line.formatted(2000004)
            + line.formatted(300));
    long begin = Instant.parse("2000-01-01T00:00:00Z").getEpochSecond() * 1_000_000;
    assertThat(samples)
        .extracting(s -> (s.timeUs() - begin) / 1000)
        .containsExactly(0L, 200L, 400L, 1400L, 2_001_404L, 2_002_404L);
  }

  @Test
  void aLineThatNothingDatesIsRefused() throws IOException {
    RecordingSummary summary = readText("{\"id\":\"T-1\",\"temp_c\":20}\n{\"temp_c\":20}\n");
    assertThat(summary.counts().of(Kind.NO_TIME)).isEqualTo(1);
    assertThat(summary.counts().of(Kind.NO_ID)).isEqualTo(1);
    assertThat(summary.samples()).isZero();
  }

  @Test
  void theLastLineCountsWithoutItsEnd() throws IOException {
    readText(
        "{\"id\":\"T-1\",\"t_ms\":1,\"temp_c\":20}\n{\"id\":\"T-1\",\"t_ms\":9,\"temp_c\":20}");
    assertThat(samples).hasSize(2);
  }

  @Test
  void aDamagedFileGivesWhatCanBeReadAndIsNamed() throws IOException {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    try (GZIPOutputStream gzip = new GZIPOutputStream(bytes)) {
      byte[] whole = Files.readAllBytes(RECORDINGS.resolve("T-77002C.jsonl.gz"));
      new GZIPInputStream(new ByteArrayInputStream(whole)).transferTo(gzip);
    }
    Path cut = folder.resolve("cut.jsonl.gz");
    Files.write(cut, Arrays.copyOf(bytes.toByteArray(), bytes.size() / 2));
    assertThatThrownBy(() -> read(cut))
        .isInstanceOf(IOException.class)
        .hasMessageContaining("cut.jsonl.gz is damaged")
        .hasMessageContaining(" samples were read before it");
    assertThat(samples.size()).isBetween(5000, 12000);
    assertThatThrownBy(() -> read(folder)).hasMessageContaining("is a folder");
    assertThatThrownBy(() -> read(folder.resolve("none"))).hasMessageContaining("does not exist");
    read(Files.write(folder.resolve("empty"), "".getBytes(UTF_8)));
  }
}
