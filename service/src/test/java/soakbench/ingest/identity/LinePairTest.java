package soakbench.ingest.identity;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import soakbench.lines.Reading;

class LinePairTest {
  private static final float LACKING = Float.NaN;

  private static Reading line(long seq, long tMs, String boot, float temperatureC, float rateDps) {
    return new Reading(
        "T-1",
        new Reading.Stamps(Reading.NO_TIME, Reading.NO_TIME, seq, tMs, boot),
        new Reading.Channels(temperatureC, rateDps, rateDps, rateDps, LACKING, LACKING, LACKING));
  }

  private static Reading counted(long seq, long tMs, String boot) {
    return line(seq, tMs, boot, 24, 1);
  }

  @Test
  void linesAreTheSameWhereNothingTellsThemApart() {
    Reading one = counted(1, 5, "b");
    assertThat(LinePair.areSame(one, counted(1, 5, "b"))).isTrue();
    assertThat(LinePair.areSame(null, one)).isFalse();
    assertThat(LinePair.areSame(one, counted(2, 5, "b"))).isFalse();
    assertThat(LinePair.areSame(one, counted(1, 6, "b"))).isFalse();
    assertThat(LinePair.areSame(one, counted(1, 5, null))).isFalse();
    assertThat(LinePair.areSame(one, line(1, 5, "b", 24.01f, 1))).isFalse();
    assertThat(LinePair.areSame(one, line(1, 5, "b", 24, -1))).isFalse();
    assertThat(LinePair.areSame(one, new Reading("T-2", one.stamps(), one.channels()))).isFalse();
    assertThat(LinePair.areSame(one, new Reading("T-1", one.stamps(), one.channels(), true)))
        .isFalse();
    Reading.Stamps timed = new Reading.Stamps(7, Reading.NO_TIME, 1, 5, "b");
    assertThat(LinePair.areSame(one, new Reading("T-1", timed, one.channels()))).isFalse();
  }

  @Test
  void whenTheyArrivedTellsNoLinesApart() {
    Reading one = counted(1, 5, "b");
    Reading.Stamps later = new Reading.Stamps(Reading.NO_TIME, 99, 1, 5, "b");
    assertThat(LinePair.areSame(one, new Reading("T-1", later, one.channels()))).isTrue();
  }

  /** Counters before, then after; a counter of 32 bits that wraps falls by nearly 2^32. */
  @ParameterizedTest
  @CsvSource({
    "9000, 7001, false",
    "9000, 6999, true",
    "9000, 7000, false",
    "4294967290, 5, false",
    "2147483648, 0, false",
    "2147483647, 0, true",
    "-1, 5, false",
    "9000, -1, false"
  })
  void aFallOfTwoSecondsThatNoWrapExplainsIsABoot(long beforeMs, long afterMs, boolean boot) {
    Reading before = counted(1, beforeMs, null);
    assertThat(LinePair.isOtherBoot(counted(2, afterMs, null), before)).isEqualTo(boot);
  }

  @Test
  void anotherBootIdIsAnotherBootWhateverTheCountersSay() {
    assertThat(LinePair.isOtherBoot(counted(2, 9, "b"), counted(1, 5, "a"))).isTrue();
    assertThat(LinePair.isOtherBoot(counted(2, 9, "a"), counted(1, 5, "a"))).isFalse();
    assertThat(LinePair.isOtherBoot(counted(2, 9, null), counted(1, 5, "a"))).isFalse();
    assertThat(LinePair.isOtherBoot(counted(2, 9, "a"), null)).isFalse();
  }

  @Test
  void theEarlierCounterIsBefore() {
    Reading that = counted(10, 5_000, "a");
    assertThat(LinePair.isBefore(counted(11, 4_900, "a"), that)).isTrue();
    assertThat(LinePair.isBefore(counted(9, 5_000, "a"), that)).isTrue();
    assertThat(LinePair.isBefore(counted(10, 5_000, "a"), that)).isFalse();
    assertThat(LinePair.isBefore(counted(-1, -1, "a"), that)).isFalse();
    assertThat(LinePair.isBefore(counted(0, 100, "b"), that)).isFalse();
    assertThat(LinePair.isBefore(counted(0, 100, null), that)).isFalse();
    assertThat(LinePair.isBefore(that, null)).isFalse();
  }

  @Test
  void aTimeIsToldToTheMicrosecond() {
    assertThat(LinePair.text(1_772_352_000_000_001L)).isEqualTo("2026-03-01T08:00:00.000001Z");
  }
}
