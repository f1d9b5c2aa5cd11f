package soakbench.readiness;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import soakbench.drift.calibration.HandlingSeen;
import soakbench.drift.heading.Heading;
import soakbench.model.Estimate;
import soakbench.readiness.Calibration.Origin;
import soakbench.readiness.Calibration.Status;
import soakbench.readiness.CalibrationCheck.Verdict;

/** The verdict on a calibration on both sides of its odds, which are known in closed form. */
class CheckVerdictTest {
  private static final Estimate NOTHING = Estimate.of(0, 0, 1.96);

  private static Estimate residual(double dps, double se) {
    return Estimate.of(dps, se, 1.96);
  }

  private static Heading toUse(Estimate degPerMin) {
    return new Heading(
        new Heading.Asked(30.0, 31.0, null), degPerMin, NOTHING, List.of(), 0.25, null);
  }

  private static HandlingSeen mark(long openS) {
    return new HandlingSeen(
        0, openS, HandlingSeen.Kind.CALIBRATION, 30, new double[3], 60, 6, false, openS, 0.1);
  }

  private static CalibrationCheck check(double dps, double se, Estimate use) {
    List<Estimate> left = List.of(residual(dps, se), residual(0, se), residual(0, se));
    return CalibrationCheck.of(mark(30), left, toUse(use));
  }

  @ParameterizedTest
  @CsvSource({
    // All three within 1.8007 deviations: 0.9283 each, 0.8 together (normal table).
    "0.0083, KEEP",
    "0.0084, UNKNOWN",
    // 0.5841 each, 0.2 together: 0.8149 deviations.
    "0.0183, UNKNOWN",
    "0.0185, DO_AGAIN"
  })
  void threeAxesAboutNothingAreAsGoodAsTheirErrorSays(double se, Verdict verdict) {
    assertThat(check(0, se, NOTHING).verdict()).isEqualTo(verdict);
  }

  @ParameterizedTest
  @CsvSource({
    // One-sided odds of four to one: 0.8416 deviations from the limit of 0.015.
    "0.0140, KEEP",
    "0.0143, UNKNOWN",
    "0.0157, UNKNOWN",
    "0.0160, DO_AGAIN"
  })
  void oneAxisNearTheLimitDecidesWhereTheOthersAreSure(double dps, Verdict verdict) {
    assertThat(check(dps, 0.001, NOTHING).verdict()).isEqualTo(verdict);
    assertThat(check(-dps, 0.001, NOTHING).verdict()).isEqualTo(verdict);
  }

  @Test
  void whatIsLeftIsToldAsHeadingOfTheWorstAxis() {
    CalibrationCheck kept = check(-0.005, 0.001, NOTHING);
    assertThat(kept.degPerMin().value()).isCloseTo(-0.3, within(1e-12));
    assertThat(kept.degPerMin().se()).isCloseTo(0.06, within(1e-12));
    assertThat(kept.reason()).isEqualTo("0.3 deg/min is left, 0.9 are allowed");
    assertThat(kept.how()).isNull();
    assertThat(kept.why()).isEqualTo(kept.reason());
  }

  @Test
  void whatUseAddsCountsWithItsOwnError() {
    // 0.3 deg/min left and 1.2 more in use; errors 0.06 and 0.08 add to 0.1.
    CalibrationCheck again = check(0.005, 0.001, Estimate.of(1.2, 0.08, 1.96));
    assertThat(again.degPerMinInUse().value()).isCloseTo(1.5, within(1e-12));
    assertThat(again.degPerMinInUse().se()).isCloseTo(0.1, within(1e-12));
    assertThat(again.verdict()).isEqualTo(Verdict.DO_AGAIN);
    assertThat(again.why()).isEqualTo("1.5 deg/min in use, 0.9 are allowed");
    assertThat(again.how()).isEqualTo("warmer: nearer to the 31.0 degC of use");
  }

  @Test
  void anIntervalWithoutAnErrorCountsByItsWidth() {
    Estimate use = new Estimate(0.0, null, -0.196, 0.196, null);
    assertThat(check(0, 0, use).degPerMinInUse().se()).isCloseTo(0.1, within(1e-12));
  }

  @Test
  void whatIsGoodNowIsNoKeepWhereUseIsNotKnown() {
    CalibrationCheck good = check(0.001, 0.001, Estimate.unknown("no curve yet"));
    assertThat(good.verdict()).isEqualTo(Verdict.UNKNOWN);
    assertThat(good.verdictNow()).isEqualTo(Verdict.KEEP);
    assertThat(good.reason()).isEqualTo("good now; in use not known: no curve yet");
    assertThat(good.degPerMin().value()).isCloseTo(0.06, within(1e-12));
    assertThat(good.degPerMinInUse().reason()).isEqualTo("no curve yet");
  }

  @Test
  void whereUseIsNotKnownABadOneIsStillDoneAgainAndACloseOneTooCloseToTell() {
    CalibrationCheck bad = check(0.03, 0.001, Estimate.unknown("no curve yet"));
    assertThat(bad.verdict()).isEqualTo(Verdict.DO_AGAIN);
    assertThat(bad.verdictNow()).isEqualTo(Verdict.DO_AGAIN);
    assertThat(bad.reason()).startsWith("1.8 deg/min is left, 0.9 are allowed: do it again");
    CalibrationCheck close = check(0.0148, 0.001, Estimate.unknown("no curve yet"));
    assertThat(close.verdict()).isEqualTo(Verdict.UNKNOWN);
    assertThat(close.verdictNow()).isEqualTo(Verdict.UNKNOWN);
    assertThat(close.reason())
        .isEqualTo(
            "0.9 +- 0.1 deg/min is left, 0.9 are allowed: more likely good, too close to tell");
  }

  @Test
  void whatIsGoodNowAndNotSureEnoughInUseSaysBoth() {
    CalibrationCheck close = check(0.001, 0.001, Estimate.of(0.76, 0.08, 1.96));
    assertThat(close.verdict()).isEqualTo(Verdict.UNKNOWN);
    assertThat(close.verdictNow()).isEqualTo(Verdict.KEEP);
    assertThat(close.reason())
        .isEqualTo(
            "good now; 0.8 +- 0.2 deg/min in use, 0.9 are allowed: more likely good, too close to"
                + " tell");
  }

  @Test
  void whatMayBeFarTooMuchInUseIsDoneAgainWithHowUnsureItIs() {
    CalibrationCheck wide = check(0.001, 0.001, Estimate.of(0.1, 1.5, 1.96));
    assertThat(wide.verdict()).isEqualTo(Verdict.DO_AGAIN);
    assertThat(wide.why()).isEqualTo("0.2 +- 2.9 deg/min in use, 0.9 are allowed");
    assertThat(wide.how()).isEqualTo("warmer: nearer to the 31.0 degC of use");
  }

  @Test
  void whereNothingIsKnownNothingIsSaidOfNowEither() {
    assertThat(CalibrationCheck.unknown("not told").verdictNow()).isEqualTo(Verdict.UNKNOWN);
  }

  @Test
  void aBadOneIsDoneAgainQuickerOrStiller() {
    List<Estimate> left = List.of(residual(0.03, 0.001), NOTHING, NOTHING);
    CalibrationCheck quick = CalibrationCheck.of(mark(90), left, toUse(NOTHING));
    assertThat(quick.how()).isEqualTo("stiller in each pose");
    CalibrationCheck slow = CalibrationCheck.of(mark(91), left, toUse(NOTHING));
    assertThat(slow.how()).isEqualTo("quicker: it was in the open for 91 s");
    assertThat(slow.why()).isEqualTo("1.8 deg/min is left, 0.9 are allowed");
  }

  @Test
  void onlyAMarkWithoutACheckThatMayStillComeAwaitsIt() {
    assertThat(calibration(Status.MARK, "not known yet: let it lie").awaitsCheck()).isTrue();
    assertThat(calibration(Status.MARK, "it was moved").awaitsCheck()).isFalse();
    assertThat(calibration(Status.MARK, null).awaitsCheck()).isFalse();
    assertThat(calibration(Status.QUESTION, "not known yet: let it lie").awaitsCheck()).isFalse();
    assertThatThrownBy(() -> calibration(null, null))
        .isInstanceOf(NullPointerException.class)
        .hasMessage("status");
  }

  private static Calibration calibration(Status status, String checkReason) {
    return new Calibration("T", 0, "T@0", Origin.SEEN, status, null, null, null, checkReason);
  }
}
