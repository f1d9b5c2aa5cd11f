package soakbench.live.arrival;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import soakbench.live.arrival.Arrival.Input;
import soakbench.model.Limits;
import soakbench.readiness.Heat;

class ArrivalWatchTest {
  private static final long START_US = 1_772_352_000_000_000L;
  private static final long DAY_US = 86_400_000_000L;
  private static final long YEAR_US = 31_557_600_000_000L;

  private long nowUs = START_US;
  private final ArrivalWatch watch = new ArrivalWatch(() -> Limits.DEFAULT, () -> nowUs, 64);

  private void second(String tracker, long stampUs, double celsius, Input input) {
    nowUs += 1_000_000;
    watch.heard(new Arrival(tracker, stampUs, celsius, input));
  }

  private Heat heat(String tracker) {
    return watch.state(tracker).map(ArrivalState::heat).orElse(null);
  }

  /** What a stamp may say. */
  enum Clock {
    RIGHT,
    YEAR_1,
    YEAR_290000,
    BACKWARDS,
    STANDING,
    CRAWLING,
    JUMPING,
    TWO_CLOCKS,
    NONE;

    private long stampUs(long nowUs, int i, Random random) {
      return switch (this) {
        case RIGHT -> nowUs;
        case YEAR_1 -> -62_135_596_800_000_000L + 1_000_000L * i;
        case YEAR_290000 -> 9_088_000_000_000_000_000L + 1_000_000L * i;
        case BACKWARDS -> nowUs - 7 * DAY_US - 3_000_000L * i;
        case STANDING -> START_US - 400 * DAY_US;
        case CRAWLING -> START_US - 400 * DAY_US + i;
        case JUMPING -> (long) (random.nextGaussian() * 1000 * YEAR_US);
        case TWO_CLOCKS -> i % 2 == 0 ? nowUs : nowUs - 26 * YEAR_US;
        case NONE -> Long.MIN_VALUE;
      };
    }
  }

  @ParameterizedTest
  @EnumSource(Clock.class)
  void heatAtALiveDoorIsSeenWithinFiveSecondsWhateverTheStampsSay(Clock clock) {
    seenWithin(clock, Input.LIVE, 5);
  }

  @ParameterizedTest
  @EnumSource(Clock.class)
  void heatThatIsPostedSecondBySecondIsSeenWithinFiveSecondsToo(Clock clock) {
    seenWithin(clock, Input.POSTED, 5);
  }

  private void seenWithin(Clock clock, Input input, int seconds) {
    Random random = new Random(17);
    for (int i = 0; i < 30; i++) {
      second("T", clock.stampUs(nowUs + 1_000_000, i, random), 30, input);
    }
    assertThat(heat("T")).isNull();
    for (int i = 30; i < 30 + seconds; i++) {
      second("T", clock.stampUs(nowUs + 1_000_000, i, random), 70, input);
      assertThat(watch.state("T").orElseThrow().temperatureC()).isEqualTo(70);
    }
    assertThat(heat("T").kind()).isEqualTo(Heat.Kind.HOT);
    for (int i = 40; i < 45; i++) {
      second("T", clock.stampUs(nowUs + 1_000_000, i, random), 30, input);
    }
    assertThat(heat("T")).isNull();
  }

  @Test
  void aClockThatWasAheadAndIsSetRightHidesNothing() {
    for (int i = 0; i < 10; i++) {
      second("T", nowUs + 20 * 60_000_000L, 30, Input.LIVE);
    }
    for (int i = 0; i < 5; i++) {
      second("T", nowUs + 1_000_000, 70, Input.LIVE);
    }
    assertThat(heat("T")).isNotNull();
    assertThat(watch.streamUs("T")).hasValue(nowUs);
  }

  @Test
  void tenLinesOverTenSecondsPostedAtOnceCountAsTenSeconds() {
    for (int i = 0; i < 10; i++) {
      watch.heard(new Arrival("T", nowUs - 10_000_000 + 1_000_000L * i, 50, Input.POSTED));
    }
    assertThat(heat("T")).isNotNull();
  }

  @Test
  void aLoneReadingAfterPowerOnIsNotHot() {
    second("T", nowUs, 85, Input.LIVE);
    for (int i = 0; i < 9; i++) {
      second("T", nowUs, 22, Input.LIVE);
      assertThat(heat("T")).isNull();
    }
  }

  @Test
  void aBulkUploadOfAHotRecordingIsNotOfNow() {
    for (int hour = 0; hour < 3; hour++) {
      for (int i = 0; i < 36_000; i++) {
        nowUs += 200;
        watch.heard(new Arrival("T", START_US - DAY_US + 100_000L * i, 70, Input.POSTED));
      }
    }
    assertThat(watch.state("T")).isEmpty();
    assertThat(watch.streamUs("T")).isEmpty();
  }

  @Test
  void aSparseRecordingThatTakesLongToUploadIsNotOfNow() {
    for (int i = 0; i < 2_000; i++) {
      nowUs += 10_000;
      watch.heard(new Arrival("T", START_US - 30 * DAY_US + 60_000_000L * i, 70, Input.POSTED));
    }
    assertThat(watch.state("T")).isEmpty();
  }

  @Test
  void aRecordingOfALiveTrackerDoesNotTouchWhatIsSeenOfIt() {
    for (int i = 0; i < 60; i++) {
      second("T", nowUs, 30, Input.LIVE);
      for (int k = 0; k < 100; k++) {
        long old = START_US - DAY_US + 100_000L * (100 * i + k);
        watch.heard(new Arrival("T", old, 70, Input.POSTED));
      }
      assertThat(watch.state("T").orElseThrow().temperatureC()).isEqualTo(30);
    }
    assertThat(heat("T")).isNull();
  }

  @Test
  void aBacklogIsNotOfNowUntilItHasCaughtUp() {
    long stamp = nowUs - 3 * 3_600_000_000L;
    boolean seen = false;
    while (stamp < nowUs) {
      for (int i = 0; i < 100; i++) {
        nowUs += 5_000;
        stamp += 1_000_000;
        watch.heard(new Arrival("T", stamp, 50, Input.POSTED));
        seen |= watch.state("T").isPresent();
        assertThat(seen).isEqualTo(stamp >= nowUs - 120_000_000L);
      }
    }
    assertThat(heat("T")).isNotNull();
  }

  @Test
  void aSenderWhoseClockIsDecadesBehindIsOfNowFromTheSixthSecondOn() {
    for (int i = 0; i < 10; i++) {
      second("T", 1_000_000L * i, 30, Input.POSTED);
      assertThat(watch.state("T").isPresent()).isEqualTo(i >= 5);
    }
    assertThat(watch.streamUs("T")).hasValue(9_000_000);
  }

  @Test
  void aSenderOfBatchesWithAWrongClockKeepsPace() {
    for (int batch = 0; batch < 4; batch++) {
      nowUs += 60_000_000;
      for (int i = 0; i < 60; i++) {
        watch.heard(new Arrival("T", 1_000_000L * (60 * batch + i), 50, Input.POSTED));
      }
    }
    assertThat(heat("T")).isNotNull();
  }

  /** A minute of lines, some seconds old by now. */
  private void postMinute(long untilUs, double celsius) {
    for (int i = 59; i >= 0; i--) {
      watch.heard(new Arrival("T", untilUs - 1_000_000L * i, celsius, Input.POSTED));
    }
  }

  @Test
  void linesThatArePostedAgainAndAgainAreOfNowOnlyOnce() {
    long firstUs = nowUs;
    postMinute(firstUs - 10_000_000, 30);
    // Nothing newer comes of this tracker; its newest five seconds can't be told from late lines.
    watch.heard(new Arrival("T", firstUs, 30, Input.POSTED));
    for (int again = 0; again < 40; again++) {
      nowUs += 2_000_000;
      postMinute(firstUs - 10_000_000, 30);
    }
    ArrivalState standing = watch.state("T").orElseThrow();
    assertThat(standing.heardUs()).isEqualTo(firstUs);
    assertThat(standing.readings()).isEqualTo(61);
  }

  @Test
  void whatIsPostedAgainHidesNeitherTheNewestNorItsHeat() {
    long firstUs = nowUs;
    for (int i = 0; i < 30; i++) {
      nowUs += 1_000_000;
      watch.heard(new Arrival("T", nowUs, i < 20 ? 30 : 70, Input.POSTED));
      postMinute(firstUs - 10_000_000, 30);
      assertThat(watch.state("T").orElseThrow().temperatureC()).isEqualTo(i < 20 ? 30 : 70);
    }
    assertThat(heat("T").kind()).isEqualTo(Heat.Kind.HOT);
  }

  @Test
  void aClockThatIsSetBackOverItsOwnGroundIsOfNowAgainAfterTenSeconds() {
    for (int i = 0; i < 100; i++) {
      second("T", nowUs, 30, Input.POSTED);
    }
    for (int i = 0; i < 15; i++) {
      second("T", nowUs - 60_000_000, 70, Input.POSTED);
    }
    assertThat(watch.state("T").orElseThrow().heardUs()).isEqualTo(nowUs);
    assertThat(heat("T")).isNotNull();
  }

  @Test
  void aRiseOfMoreThanFiveDegreesAMinuteIsSeenAfterAMinute() {
    for (int i = 0; i < 59; i++) {
      second("T", nowUs, 25 + 6.0 / 60 * i, Input.LIVE);
      assertThat(heat("T")).isNull();
    }
    for (int i = 59; i < 66; i++) {
      second("T", nowUs, 25 + 6.0 / 60 * i, Input.LIVE);
    }
    assertThat(heat("T").kind()).isEqualTo(Heat.Kind.FAST_RISE);
  }

  @Test
  void aRiseOfFiveDegreesInAMinuteIsAllowed() {
    for (int i = 0; i < 180; i++) {
      second("T", nowUs, 25 + 4.9 / 60 * i, Input.LIVE);
      assertThat(heat("T")).isNull();
    }
  }

  @Test
  void itStaysHotUntilHalfADegreeCooler() {
    for (int i = 0; i < 10; i++) {
      second("T", nowUs, 46, Input.LIVE);
    }
    for (int i = 0; i < 60; i++) {
      second("T", nowUs, 44.6, Input.LIVE);
    }
    assertThat(heat("T")).isNotNull();
    for (int i = 0; i < 4; i++) {
      second("T", nowUs, 44.4, Input.LIVE);
    }
    assertThat(heat("T")).isNull();
  }

  @Test
  void theRostersOffsetIsAdded() {
    watch.useOffsets(tracker -> 2);
    for (int i = 0; i < 5; i++) {
      second("T", nowUs, 43.5, Input.LIVE);
    }
    assertThat(watch.state("T").orElseThrow().temperatureC()).isEqualTo(45.5);
    assertThat(heat("T")).isNotNull();
  }

  @Test
  void linesWithoutATemperatureAreHeard() {
    second("T", nowUs, 30, Input.LIVE);
    for (int i = 0; i < 30; i++) {
      second("T", nowUs, Double.NaN, Input.LIVE);
    }
    ArrivalState standing = watch.state("T").orElseThrow();
    assertThat(standing.heardUs()).isEqualTo(nowUs);
    assertThat(standing.temperatureC()).isEqualTo(30);
    assertThat(standing.temperature().atUs()).isEqualTo(nowUs - 30_000_000);
  }

  @Test
  void tenMinutesAfterItsLastReadingItsTimeIsForgotten() {
    second("T", nowUs, 30, Input.LIVE);
    nowUs += 600_000_000;
    assertThat(watch.streamUs("T")).isPresent();
    nowUs += 1;
    assertThat(watch.streamUs("T")).isEmpty();
  }

  @Test
  void aFloodOfIdsPushesOutNeitherHotOnesNorThoseThatGoOn() {
    for (int i = 0; i < 10; i++) {
      second("hot", nowUs, 70, Input.LIVE);
      watch.heard(new Arrival("calm", nowUs, 30, Input.LIVE));
    }
    for (int i = 0; i < 5_000; i++) {
      nowUs += 10_000;
      watch.heard(new Arrival("flood-" + i, nowUs, 20, Input.POSTED));
      if (i % 100 == 0) {
        watch.heard(new Arrival("hot", nowUs, 70, Input.LIVE));
        watch.heard(new Arrival("calm", nowUs, 30, Input.LIVE));
      }
      assertThat(watch.size()).isLessThanOrEqualTo(64);
    }
    assertThat(heat("hot")).isNotNull();
    assertThat(watch.state("calm").orElseThrow().readings()).isGreaterThan(50);
  }

  @Test
  void silentOnesLeaveFirst() {
    for (int i = 0; i < 5; i++) {
      second("silent", nowUs, 30, Input.LIVE);
    }
    nowUs += 11_000_000;
    for (int i = 0; i < 64; i++) {
      for (int k = 0; k < 3; k++) {
        watch.heard(new Arrival("rack-" + i, nowUs, 30, Input.LIVE));
      }
    }
    assertThat(watch.state("silent")).isEmpty();
  }
}
