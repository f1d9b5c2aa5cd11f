package soakbench.ingest.identity;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class BootTimeClockTest {
  private static final long LAST_MS = (1L << 32) - 1;

  private final BootTimeClock clock = new BootTimeClock();

  /** Milliseconds since the clock's beginning. */
  private long ms(long raw) {
    return (clock.map(raw) - BootTimeClock.BEGIN_US) / 1000;
  }

  @Test
  void timeBeginsWithTheYearTwoThousandWhateverTheCounterSays() {
    assertThat(clock.map(86_400_000))
        .isEqualTo(java.time.Instant.parse("2000-01-01T00:00:00Z").getEpochSecond() * 1_000_000L);
    assertThat(ms(86_400_250)).isEqualTo(250);
  }

  /** 2^32 ms are 49 days 17 h 2 min 47.296 s: the counter's last value is followed by 0. */
  @Test
  void aCounterThatWrapsGoesOnByWhatItAdvanced() {
    ms(LAST_MS - 99);
    assertThat(ms(LAST_MS)).isEqualTo(99);
    assertThat(ms(0)).isEqualTo(100);
    assertThat(ms(150)).isEqualTo(250);
  }

  @ParameterizedTest
  @CsvSource({"60000, 60000", "60001, 1000"})
  void aMinuteOverTheWrapIsTheLongestGapThatIsNoReboot(long gapMs, long elapsedMs) {
    ms(LAST_MS - 29_999);
    assertThat(ms(gapMs - 30_000)).isEqualTo(elapsedMs);
  }

  @Test
  void aRebootCostsASecond() {
    ms(5_000);
    ms(65_000);
    assertThat(ms(3_000)).isEqualTo(61_000);
    assertThat(ms(3_100)).isEqualTo(61_100);
  }

  @Test
  void aLineSentTwiceIsOutOfOrderAndChangesNothing() {
    ms(5_000);
    ms(6_000);
    assertThat(clock.map(5_500)).isEqualTo(DeviceClock.OUT_OF_ORDER);
    assertThat(ms(6_100)).isEqualTo(1_100);
    assertThat(ms(6_100)).isEqualTo(1_100);
  }

  @ParameterizedTest
  @CsvSource({"1001, 2000, false", "1000, 1999, true", "1500, 2500, true", "1501, 2500, false"})
  void aFallOfASecondOrToTheFirstSecondIsAReboot(long to, long from, boolean reboot) {
    ms(from);
    long us = clock.map(to);
    assertThat(us)
        .isEqualTo(reboot ? BootTimeClock.BEGIN_US + 1_000_000 : DeviceClock.OUT_OF_ORDER);
  }
}
