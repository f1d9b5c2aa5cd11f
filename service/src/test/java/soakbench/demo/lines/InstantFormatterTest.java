package soakbench.demo.lines;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class InstantFormatterTest {
  private final InstantFormatter instants = new InstantFormatter();

  private String text(long timeUs) {
    LineBuffer out = new LineBuffer();
    instants.add(out, timeUs);
    return new String(out.bytes(), 0, out.length(), StandardCharsets.US_ASCII);
  }

  /**
   * Examples of RFC 3339, section 5.8, those of other zones in UTC; the epoch and the day before.
   */
  @ParameterizedTest
  @CsvSource({
    "482196050520000, 1985-04-12T23:20:50.520Z",
    "851042397000000, 1996-12-20T00:39:57.000Z",
    "-1041337172130000, 1937-01-01T11:40:27.870Z",
    "0, 1970-01-01T00:00:00.000Z",
    "-1, 1969-12-31T23:59:59.999Z"
  })
  void publishedMomentsAreWrittenAsPublished(long timeUs, String expected) {
    assertThat(text(timeUs)).isEqualTo(expected);
  }

  @Test
  void microsecondsAreCutAndTheSecondIsWrittenAnewWhenItChanges() {
    assertThat(text(1_772_352_000_999_999L)).isEqualTo("2026-03-01T08:00:00.999Z");
    assertThat(text(1_772_352_000_001_000L)).isEqualTo("2026-03-01T08:00:00.001Z");
    assertThat(text(1_772_352_001_000_000L)).isEqualTo("2026-03-01T08:00:01.000Z");
  }

  @Test
  void everyMomentReadsBackToItsMillisecond() {
    SplittableRandom random = new SplittableRandom(5);
    for (int i = 0; i < 5_000; i++) {
      long timeUs = random.nextLong(-2_000_000_000_000_000L, 4_000_000_000_000_000L);
      Instant exact = Instant.EPOCH.plus(timeUs, ChronoUnit.MICROS);
      assertThat(Instant.parse(text(timeUs))).isEqualTo(exact.truncatedTo(ChronoUnit.MILLIS));
    }
  }
}
