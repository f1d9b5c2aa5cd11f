package soakbench.ingest.identity;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import soakbench.ingest.rackfile.StampTolerance;
import soakbench.lines.Reading;

class SlewedTimeTest {
  private static final long SECOND = 1_000_000;
  private static final long START = 1_772_352_000 * SECOND;

  private final SlewedTime time = new SlewedTime(StampTolerance.USUAL, true, Reading.NO_TIME);

  @Test
  void theFirstLiesWhereBaseAndShiftPutIt() {
    assertThat(time.isFirst()).isTrue();
    time.follow(START, 250_000, 0);
    assertThat(time.isFirst()).isFalse();
    assertThat(time.lastUs()).isEqualTo(START + 250_000);
  }

  /** By 2 % of 10 s, which are 200 ms, five times; then the second that it was to fade is gone. */
  @Test
  void aShiftFadesByTwoPercentOfTheTimeThatPasses() {
    time.follow(START, 0, 0);
    for (int i = 1; i <= 5; i++) {
      time.follow(START + i * 10 * SECOND, SECOND, 10 * SECOND);
      assertThat(time.lastUs()).isEqualTo(START + i * 10_200_000L);
    }
    time.follow(START + 60 * SECOND, SECOND, 10 * SECOND);
    assertThat(time.lastUs()).isEqualTo(START + 61 * SECOND);
    time.follow(START + 70 * SECOND, 0, 10 * SECOND);
    assertThat(time.lastUs()).isEqualTo(START + 70 * SECOND + 800_000);
  }

  @ParameterizedTest
  @CsvSource({"3600000000", "-3600000000", "1"})
  void aBaseThatStepsMovesNoTime(long stepUs) {
    time.follow(START, 0, 0);
    time.rebase(START + SECOND + stepUs, 0, SECOND);
    assertThat(time.lastUs()).isEqualTo(START + SECOND);
    time.follow(START + 2 * SECOND + stepUs, -stepUs, SECOND);
    assertThat(time.lastUs()).isEqualTo(START + 2 * SECOND);
  }

  @Test
  void timesRiseThoughNothingElseDoes() {
    time.follow(START, 0, 0);
    time.follow(START, 0, 0);
    assertThat(time.lastUs()).isEqualTo(START + 1);
    time.goOn(0);
    assertThat(time.lastUs()).isEqualTo(START + 2);
    time.rebase(START, 0, -5);
    assertThat(time.lastUs()).isEqualTo(START + 3);
    time.goOn(SECOND);
    assertThat(time.lastUs()).isEqualTo(START + SECOND + 3);
  }

  /** A computer's clock may be set back by ten seconds between two runs. */
  @ParameterizedTest
  @CsvSource({"0, 1", "-9999999, 1", "-10000000, 1", "-10000001, -10000001", "5, 5"})
  void anEarlierRunIsGoneOnFromUnlessItLiesFarAhead(long firstUs, long expectedUs) {
    SlewedTime later = new SlewedTime(StampTolerance.USUAL, true, START);
    later.follow(START + firstUs, 0, 0);
    assertThat(later.lastUs()).isEqualTo(START + expectedUs);
  }

  @Test
  void whatIsLeftMoreThanTenMinutesBehindJumpsForward() {
    time.follow(START, 0, 0);
    assertThat(time.keepNear(START, 0, START + 600 * SECOND)).isFalse();
    assertThat(time.lastUs()).isEqualTo(START);
    assertThat(time.keepNear(START, 0, START + 601 * SECOND)).isFalse();
    assertThat(time.lastUs()).isEqualTo(START + SECOND);
  }

  /** A minute ahead and two seconds of jitter are allowed. */
  @Test
  void whatIsAheadOfADateThatWasSetBackStepsBackOnceWhereItIsBounded() {
    time.follow(START, 0, 0);
    assertThat(time.keepNear(START, 0, START - 62 * SECOND)).isFalse();
    assertThat(time.keepNear(START, 0, START - 63 * SECOND)).isTrue();
    assertThat(time.lastUs()).isEqualTo(START - 63 * SECOND);
    SlewedTime unbounded = new SlewedTime(StampTolerance.USUAL, false, Reading.NO_TIME);
    unbounded.follow(START, 0, 0);
    assertThat(unbounded.keepNear(START, 0, START - 3600 * SECOND)).isFalse();
    assertThat(unbounded.lastUs()).isEqualTo(START);
  }
}
