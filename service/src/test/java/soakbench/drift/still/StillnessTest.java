package soakbench.drift.still;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.drift.Bins;
import soakbench.drift.still.Stillness.Answer;

class StillnessTest {
  private final Stillness stillness = new Stillness();

  private List<Answer> feed(Bins bins, int from, int to, int everyS, int readings, double shake) {
    List<Answer> out = new ArrayList<>();
    for (int s = from; s < to; s += everyS) {
      out.add(stillness.accept(bins.second(s, readings, shake)));
    }
    return out;
  }

  private static int count(List<Answer> answers, Answer which) {
    return Collections.frequency(answers, which);
  }

  @ParameterizedTest
  @CsvSource({"10, 0", "50, 0", "5, 0", "10, 0.04", "10, 0.0038", "100, 0.03"})
  void stillNoiseIsTakenForMotionOnceInElevenHoursAtMost(int hz, double stepDps) {
    Bins bins = new Bins(40 + hz).step(stepDps);
    List<Answer> answers = feed(bins, 0, 40_000, 1, hz, 0);
    assertThat(count(answers, Answer.MOVED)).isLessThanOrEqualTo(1);
    assertThat(count(answers, Answer.NEW_LEVEL)).isZero();
  }

  /** A clock that is a little fast or slow leaves a reading to the next second now and then. */
  @Test
  void aSecondWithAReadingFewerIsNoMotion() {
    Bins bins = new Bins(31);
    int moved = 0;
    for (int s = 0; s < 40_000; s++) {
      int readings = s % 17 == 5 ? 4 : s % 17 == 11 ? 6 : 5;
      moved += stillness.accept(bins.second(s, readings, 0)) == Answer.MOVED ? 1 : 0;
    }
    assertThat(moved).isLessThanOrEqualTo(1);
  }

  /** A floor that few windows have shown is as uncertain as they are few. */
  @ParameterizedTest
  @ValueSource(ints = {5, 10, 25})
  void theFirstMinuteOfAThousandSoaksIsStill(int hz) {
    Bins bins = new Bins(32 + hz);
    int disturbed = 0;
    for (int soak = 0; soak < 1000; soak++) {
      Stillness fresh = new Stillness();
      boolean moved = false;
      for (int s = 0; s < 60; s++) {
        moved |= fresh.accept(bins.second(s, hz, 0)) == Answer.MOVED;
      }
      disturbed += moved ? 1 : 0;
    }
    assertThat(disturbed).isLessThanOrEqualTo(1);
  }

  @Test
  void motionInTheFirstSecondsIsSeenAllTheSame() {
    Bins bins = new Bins(33);
    feed(bins, 0, 4, 1, 10, 0);
    assertThat(feed(bins, 4, 8, 1, 10, 20)).containsOnly(Answer.MOVED);
    assertThat(feed(bins, 8, 60, 1, 10, 0)).containsOnly(Answer.STILL);
  }

  @ParameterizedTest
  @ValueSource(doubles = {2.5, 5, 20})
  void shakingForTenMinutesDoesNotBecomeItsOwnFloor(double shakeDps) {
    Bins bins = new Bins(35);
    feed(bins, 0, 100, 1, 10, 0);
    assertThat(feed(bins, 100, 700, 1, 10, shakeDps)).containsOnly(Answer.MOVED);
  }

  @ParameterizedTest
  @ValueSource(doubles = {0.1, 1, 30})
  void aBurstIsSeenInEverySecondOfIt(double shakeDps) {
    Bins bins = new Bins(2);
    feed(bins, 0, 100, 1, 10, 0);
    assertThat(feed(bins, 100, 104, 1, 10, shakeDps)).containsOnly(Answer.MOVED);
    assertThat(feed(bins, 105, 120, 1, 10, 0)).containsOnly(Answer.STILL);
  }

  @ParameterizedTest
  @ValueSource(doubles = {0.002, 0.02, 0.2, 1})
  void aUnitIsHeldAgainstItsOwnNoiseAndNotAgainstAFixedOne(double noiseDps) {
    Bins bins = new Bins(21).noise(noiseDps);
    List<Answer> answers = feed(bins, 0, 10_000, 1, 10, 0);
    assertThat(count(answers, Answer.MOVED)).isLessThanOrEqualTo(2);
    assertThat(stillness.noiseSdDps()[0]).isBetween(0.85 * noiseDps, 1.15 * noiseDps);
    assertThat(feed(bins, 10_000, 10_004, 1, 10, 4 * noiseDps)).containsOnly(Answer.MOVED);
  }

  @Test
  void readingsThatHopBetweenTwoStepsAreNoMotion() {
    // Noise of a tenth of a step, the bias halfway between two: each reading is one or the other.
    Bins bins = new Bins(22).noise(0.0015).step(0.0153);
    bins.bias(0.0153 * 20.5, 0.0153 * 7, -0.0153 * 3.5);
    assertThat(feed(bins, 0, 5000, 1, 10, 0)).containsOnly(Answer.STILL);
    assertThat(stillness.noiseSdDps()[1]).as("no less than the step's own").isGreaterThan(0.004);
    assertThat(feed(bins, 5000, 5003, 1, 10, 0.1)).containsOnly(Answer.MOVED);
  }

  @Test
  void aStillUnitWhoseReadingsNeverChangeIsStill() {
    Bins bins = new Bins(23).noise(0.0001).step(0.0153);
    assertThat(feed(bins, 0, 600, 1, 10, 0)).containsOnly(Answer.STILL);
  }

  /** A turn of 0.05 deg/s is less than a minute of warming moves a steep unit's bias. */
  @Test
  void aTurnTooSlowForAGyroIsSeenByTheAccelerometer() {
    List<Answer> alone = slowTurn(new Stillness(), new Bins(24));
    List<Answer> helped = slowTurn(new Stillness(), new Bins(24).accelerometer());
    assertThat(alone).containsOnly(Answer.STILL);
    assertThat(count(helped.subList(60, 120), Answer.MOVED)).isGreaterThan(20);
  }

  private static List<Answer> slowTurn(Stillness stillness, Bins bins) {
    List<Answer> out = new ArrayList<>();
    for (int s = 0; s < 180; s++) {
      double turnedS = Math.max(0, Math.min(60, s - 60));
      double angle = Math.toRadians(0.05 * turnedS);
      bins.bias(0.31 + (turnedS > 0 && turnedS < 60 ? 0.05 : 0), -0.12, 0.05);
      bins.up(0, Math.sin(angle), Math.cos(angle));
      out.add(stillness.accept(bins.second(s, 10, 0)));
    }
    return out;
  }

  @Test
  void motionInTheFirstMinutesDoesNotRaiseTheFloor() {
    Bins bins = new Bins(3);
    for (int s = 0; s < 120; s += 3) {
      feed(bins, s, s + 2, 1, 10, 20);
      feed(bins, s + 2, s + 3, 1, 10, 0);
    }
    assertThat(stillness.noiseSdDps()[0]).isLessThan(0.03);
    assertThat(feed(bins, 120, 123, 1, 10, 1)).containsOnly(Answer.MOVED);
  }

  @Test
  void aSlowSteadyTurnWithoutAccelerometerIsMotion() {
    Bins bins = new Bins(4);
    feed(bins, 0, 60, 1, 10, 0);
    bins.bias(0.31, -0.12, 0.05 + 0.3);
    assertThat(feed(bins, 60, 80, 1, 10, 0)).containsOnly(Answer.MOVED);
    bins.bias(0.31, -0.12, 0.05);
    assertThat(feed(bins, 80, 90, 1, 10, 0)).containsOnly(Answer.STILL);
  }

  /**
   * As slow and even as a hand can turn it, about a diagonal: a third of a second's noise hides it
   * from each axis in one second, and half a minute made a new level of it.
   */
  @ParameterizedTest
  @CsvSource({"0.3, 10", "0.5, 4", "1, 2", "2, 1"})
  void aTurnOf47SecondsIsMotionToItsEnd(double dps, int seenAfterS) {
    Bins bins = new Bins(36).noise(0.063);
    feed(bins, 0, 120, 1, 10, 0);
    double each = dps / Math.sqrt(3);
    bins.bias(0.31 + each, -0.12 + each, 0.05 - each);
    List<Answer> turning = feed(bins, 120, 167, 1, 10, 0);
    assertThat(turning.subList(seenAfterS, 47)).containsOnly(Answer.MOVED);
    bins.bias(0.31, -0.12, 0.05);
    List<Answer> after = feed(bins, 167, 227, 1, 10, 0);
    assertThat(after.subList(20, 60)).containsOnly(Answer.STILL);
  }

  /** Then it is something else than a turn, say a zero that its firmware has set. */
  @Test
  void ratesOnANewLevelForAMinuteAreANewLevel() {
    Bins bins = new Bins(37);
    feed(bins, 0, 60, 1, 10, 0);
    bins.bias(0, 0, 0);
    List<Answer> answers = feed(bins, 60, 60 + Stillness.NEW_LEVEL_S, 1, 10, 0);
    assertThat(answers.subList(0, answers.size() - 1)).containsOnly(Answer.MOVED);
    assertThat(answers.get(answers.size() - 1)).isEqualTo(Answer.NEW_LEVEL);
    assertThat(feed(bins, 120, 160, 1, 10, 0)).containsOnly(Answer.STILL);
  }

  /** A chip warms itself by three degrees in its first minute; the steepest axis follows. */
  @ParameterizedTest
  @ValueSource(doubles = {0, 0.5})
  void whatTheTemperatureExplainsIsNoTurn(double stepC) {
    Bins bins = new Bins(38).noise(0.005);
    List<Answer> answers = new ArrayList<>();
    for (int s = 0; s < 300; s++) {
      double celsius = 25 + 3 * (1 - Math.exp(-s / 20.0));
      bins.at(stepC > 0 ? Math.rint(celsius / stepC) * stepC : celsius);
      bins.bias(0.31 + 0.12 * (celsius - 25), -0.12, 0.05);
      answers.add(stillness.accept(bins.second(s, 10, 0)));
    }
    assertThat(answers).containsOnly(Answer.STILL);
  }

  @Test
  void aWarmingBiasIsNoTurn() {
    Bins bins = new Bins(5);
    List<Answer> answers = new ArrayList<>();
    for (int s = 0; s < 600; s++) {
      // 0.05 deg/s per degC at a degree a minute: steeper and faster than any in the demo.
      bins.bias(0.31 + 0.05 * s / 60.0, -0.12, 0.05);
      answers.add(stillness.accept(bins.second(s, 10, 0)));
    }
    assertThat(answers).containsOnly(Answer.STILL);
  }

  @Test
  void aNewPoseIsSeenByTheAccelerometerAndIsALevelOfItsOwnAfterHalfAMinute() {
    Bins bins = new Bins(6).accelerometer();
    assertThat(feed(bins, 0, 60, 1, 10, 0)).containsOnly(Answer.STILL);
    bins.up(0, 0.1, 0.995);
    List<Answer> answers = feed(bins, 60, 60 + Stillness.NEW_POSE_S, 1, 10, 0);
    assertThat(answers.subList(0, answers.size() - 1)).containsOnly(Answer.MOVED);
    assertThat(answers.get(answers.size() - 1)).isEqualTo(Answer.NEW_LEVEL);
    assertThat(feed(bins, 90, 120, 1, 10, 0)).containsOnly(Answer.STILL);
  }

  @Test
  void aSmallTiltIsStillTheSamePose() {
    Bins bins = new Bins(7).accelerometer();
    feed(bins, 0, 60, 1, 10, 0);
    bins.up(0, 0.01, 1);
    assertThat(feed(bins, 60, 90, 1, 10, 0)).containsOnly(Answer.STILL);
  }

  @ParameterizedTest
  @CsvSource({"1, 1", "1, 2", "2, 1"})
  void slowStreamsArePooledUpToTenSeconds(int everyS, int readings) {
    Bins bins = new Bins(8);
    List<Answer> answers = feed(bins, 0, 2000, everyS, readings, 0);
    assertThat(answers.subList(0, 2)).containsOnly(Answer.TOO_SLOW);
    assertThat(answers.subList(5, answers.size())).doesNotContain(Answer.TOO_SLOW);
    assertThat(count(answers, Answer.MOVED)).isLessThanOrEqualTo(1);
    assertThat(feed(bins, 2000, 2010, everyS, readings, 5)).contains(Answer.MOVED);
  }

  /** One in two seconds shows motion, though a line is lost now and then. */
  @ParameterizedTest
  @ValueSource(doubles = {0, 0.0153})
  void aReadingInTwoSecondsIsEnough(double stepDps) {
    Bins bins = new Bins(39).noise(0.005).step(stepDps);
    List<Answer> answers = new ArrayList<>();
    for (int s = 0; s < 7200; s += 2) {
      if (s % 60 != 58) {
        answers.add(stillness.accept(bins.second(s, 1, 0)));
      }
    }
    assertThat(answers.subList(0, 4)).containsOnly(Answer.TOO_SLOW);
    assertThat(answers.subList(4, answers.size())).containsOnly(Answer.STILL);
    assertThat(feed(bins, 7200, 7210, 2, 1, 5)).contains(Answer.MOVED);
  }

  /** A median of its spacings over two seconds, not the window that holds no five. */
  @Test
  void alternatelyTwoAndThreeSecondsApartIsTooSlow() {
    List<Answer> answers = new ArrayList<>();
    for (int s = 0; s < 600; s += s % 5 == 0 ? 2 : 3) {
      answers.add(stillness.accept(new Bins(40 + s).second(s, 1, 0)));
    }
    assertThat(Collections.frequency(answers, Answer.TOO_SLOW)).isGreaterThan(answers.size() / 3);
  }

  @ParameterizedTest
  @CsvSource({"3, 1", "5, 1", "11, 4"})
  void slowerThanFiveReadingsInTenSecondsIsTooSlow(int everyS, int readings) {
    assertThat(feed(new Bins(9), 0, 600, everyS, readings, 0)).containsOnly(Answer.TOO_SLOW);
  }

  @Test
  void aSecondWithoutRatesSaysNothing() {
    assertThat(stillness.accept(new Bins(10).second(0, 0, 0))).isEqualTo(Answer.NO_RATES);
  }
}
