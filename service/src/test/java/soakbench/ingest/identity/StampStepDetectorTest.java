package soakbench.ingest.identity;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Stamps and arrivals in seconds after the first line's, ten lines a second. */
class StampStepDetectorTest {
  private static final long SECOND = 1_000_000;

  private final StampStepDetector track = new StampStepDetector();

  private static long us(double s) {
    return Math.round(s * SECOND);
  }

  private void believe(int lines) {
    for (int i = 0; i < lines; i++) {
      track.believe(us(i / 10.0), us(i / 10.0));
    }
  }

  @Test
  void aSecondLineThatAgreesProvesTheFirst() {
    track.believe(0, 0);
    assertThat(track.isProved()).isFalse();
    track.believe(us(0.1), us(0.1));
    assertThat(track.isProved()).isTrue();
    assertThat(track.stampUs()).isEqualTo(us(0.1));
  }

  @Test
  void aSecondLineThatSteppedTakesTheFirstsPlace() {
    track.believe(us(3600), 0);
    track.believe(us(0.1), us(0.1));
    assertThat(track.isProved()).isFalse();
    assertThat(track.stampUs()).isEqualTo(us(0.1));
    track.believe(us(0.2), us(0.2));
    assertThat(track.isProved()).isTrue();
  }

  /** After ten lines, the newest at 0.9 s. */
  @ParameterizedTest
  @CsvSource({
    "1.0, 1.0, true",
    "0.9, 1.0, false",
    "0.8, 1.0, false",
    "3.0, 1.0, true",
    "3.01, 1.0, false",
    "1.0, 31.0, true",
    "1.0, 31.01, false"
  })
  void itGoesOnWhereStampAndArrivalAdvanceAlike(double stampS, double readS, boolean goesOn) {
    believe(10);
    assertThat(track.goesOn(us(stampS), us(readS))).isEqualTo(goesOn);
  }

  @ParameterizedTest
  @CsvSource({
    "0.8, 1.0, true",
    "0.9, 1.0, false",
    "1.0, 1.0, false",
    "3.0, 1.0, false",
    "3.01, 1.0, true",
    "60, 60, false",
    "1.0, 60, false"
  })
  void itStepsBackOrForwardByMoreThanArrivalBearsOut(double stampS, double readS, boolean step) {
    believe(10);
    assertThat(track.isStep(us(stampS), us(readS))).isEqualTo(step);
  }

  /** A line every five seconds: three such steps are 15 s. */
  @Test
  void aStepForwardIsLongerThanThreeUsualOnes() {
    track.believe(0, 0);
    track.believe(us(5), us(5));
    assertThat(track.isStep(us(20), us(10))).isFalse();
    assertThat(track.isStep(us(20.1), us(10))).isTrue();
  }

  @Test
  void linesThatWaitedAndThenComeAtOnceAreNoStep() {
    believe(10);
    track.believe(us(1), us(20));
    assertThat(track.isStep(us(19), us(20.1))).isFalse();
    assertThat(track.isStep(us(22.2), us(20.1))).isTrue();
  }

  @Test
  void aCandidateIsBorneOutByALineThatGoesOnFromIt() {
    believe(10);
    assertThat(track.agreesWithCandidate(us(3600.1), us(1.1))).isFalse();
    track.candidate(us(3600), us(1));
    assertThat(track.candidateStepUs()).isEqualTo(us(3599));
    assertThat(track.agreesWithCandidate(us(3600.1), us(1.1))).isTrue();
    assertThat(track.agreesWithCandidate(us(3600), us(1.1))).isFalse();
    assertThat(track.agreesWithCandidate(us(3603.2), us(1.1))).isFalse();
    track.forgetCandidate();
    assertThat(track.agreesWithCandidate(us(3600.1), us(1.1))).isFalse();
  }

  @Test
  void beginningAnewAtACandidateIsProvedAtOnceAndWithoutOneIsNot() {
    believe(10);
    track.candidate(us(3600), us(1));
    track.beginAt(us(3600.1), us(1.1));
    assertThat(track.isProved()).isTrue();
    assertThat(track.stampUs()).isEqualTo(us(3600.1));
    track.beginAt(us(7200), us(1.2));
    assertThat(track.isProved()).isFalse();
  }

  @Test
  void linesThatWaitedComeAtLeastTwiceAsFastAsTheyWereMeasured() {
    believe(10);
    double readS = 100;
    for (double stampS = 1; stampS < 21; stampS += 0.1) {
      assertThat(track.isBacklog(us(stampS), us(readS))).as("at %s s", stampS).isTrue();
      readS += 0.05;
    }
    assertThat(track.hasBacklog()).isTrue();
    track.endBacklog();
    assertThat(track.hasBacklog()).isFalse();
  }

  @Test
  void aClockThatStoodStillAdvancesNoFasterAndIsFoundOutInFiveSeconds() {
    believe(10);
    for (int i = 0; i < 50; i++) {
      assertThat(track.isBacklog(us(1 + i / 10.0), us(100 + i / 10.0))).isTrue();
    }
    assertThat(track.isBacklog(us(6), us(105))).isFalse();
    assertThat(track.isBacklog(us(6.1), us(105.1))).isFalse();
    track.endBacklog();
    assertThat(track.isBacklog(us(6.2), us(105.2))).isTrue();
  }
}
