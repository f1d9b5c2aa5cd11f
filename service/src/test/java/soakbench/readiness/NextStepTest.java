package soakbench.readiness;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import soakbench.drift.calibration.HandlingSeen;
import soakbench.model.Estimate;
import soakbench.model.State;
import soakbench.model.Tracker.Rates;
import soakbench.readiness.Calibration.Origin;
import soakbench.readiness.Calibration.Status;
import soakbench.readiness.CalibrationCheck.Verdict;

class NextStepTest {
  private static final long S = 1_000_000L;

  /** When it was lifted, s since 1970; the verdicts are of later. */
  private static final long LIFTED_S = 18_000;

  private static final String WAITS = Calibration.NOT_YET + "let it lie";
  private static final String NEVER = "it was moved before it had lain still for a minute";

  private static Readiness ready(long asOfS, int stillS) {
    return GivenVerdicts.of("T-1", State.READY, asOfS, stillS, null);
  }

  private static Readiness ready() {
    return ready(LIFTED_S + 900, 800);
  }

  private static Calibration mark(Status status, Verdict verdict, String why) {
    Estimate none = Estimate.unknown("not asked");
    Calibration.Check check =
        verdict == null
            ? null
            : new Calibration.Check(
                (LIFTED_S + 100) * S,
                (LIFTED_S + 160) * S,
                Rates.RAW,
                31,
                new CalibrationCheck(List.of(none, none, none), none, none, verdict, "so it is"));
    return new Calibration(
        "T-1",
        LIFTED_S * S,
        "T-1@19700101T000000000Z",
        Origin.SEEN,
        status,
        State.READY,
        null,
        check,
        why);
  }

  private static NextStep step(Calibration newest) {
    return NextStep.of(ready(), newest, false);
  }

  @Test
  void aReadyTrackerThatNobodyCalibratedIsToBeCalibrated() {
    assertThat(step(null)).isEqualTo(NextStep.CALIBRATE);
    assertThat(step(mark(Status.UNDONE, null, null))).isEqualTo(NextStep.CALIBRATE);
  }

  @Test
  void theVerdictOfTheCheckTellsWhatIsNext() {
    assertThat(step(mark(Status.MARK, Verdict.KEEP, null))).isEqualTo(NextStep.KEEP);
    assertThat(step(mark(Status.MARK, Verdict.DO_AGAIN, null))).isEqualTo(NextStep.CALIBRATE);
    assertThat(step(mark(Status.MARK, Verdict.UNKNOWN, null))).isEqualTo(NextStep.DECIDE);
  }

  @Test
  void aQuestionIsAnsweredWhereItStillLiesAsItWasLaidDown() {
    Calibration question = withHandling(mark(Status.QUESTION, null, null));
    assertThat(step(question)).isEqualTo(NextStep.ANSWER);
    assertThat(NextStep.of(ready(LIFTED_S + 900, 700), question, false))
        .as("moved 200 s after it was lifted, and was laid down at 60")
        .isEqualTo(NextStep.CALIBRATE);
  }

  private static Calibration withHandling(Calibration c) {
    HandlingSeen seen =
        new HandlingSeen(
            LIFTED_S,
            LIFTED_S + 60,
            HandlingSeen.Kind.QUESTION,
            30,
            new double[] {0.3, -0.1, 0.05},
            60,
            2,
            false,
            60,
            0.1);
    return new Calibration(
        c.tracker(),
        c.atUs(),
        c.soak(),
        c.origin(),
        c.status(),
        c.stateBefore(),
        seen,
        c.check(),
        c.checkReason());
  }

  @Test
  void aCheckThatMayStillComeIsWaitedForFiveMinutesAndNoLonger() {
    Calibration waits = mark(Status.MARK, null, WAITS);
    assertThat(NextStep.of(ready(LIFTED_S + 100, 30), waits, false)).isEqualTo(NextStep.CHECK);
    assertThat(NextStep.of(ready(LIFTED_S + 329, 30), waits, false))
        .as("moved meanwhile: five minutes from then")
        .isEqualTo(NextStep.CHECK);
    assertThat(NextStep.of(ready(LIFTED_S + 299, 400), waits, false)).isEqualTo(NextStep.CHECK);
    assertThat(NextStep.of(ready(LIFTED_S + 300, 400), waits, false)).isEqualTo(NextStep.CALIBRATE);
    assertThat(step(mark(Status.MARK, null, NEVER))).isEqualTo(NextStep.CALIBRATE);
  }

  @Test
  void aTrackerThatWasMovedAfterItsStillMinuteIsToBeCalibratedAgain() {
    Calibration kept = mark(Status.MARK, Verdict.KEEP, null);
    Readiness before = ready(LIFTED_S + 900, 740);
    Readiness after = ready(LIFTED_S + 900, 739);
    assertThat(NextStep.of(before, kept, true)).isEqualTo(NextStep.KEEP);
    assertThat(NextStep.movedSinceCheck(before, kept)).isFalse();
    assertThat(NextStep.of(after, kept, true)).isEqualTo(NextStep.CALIBRATE);
    assertThat(NextStep.movedSinceCheck(after, kept)).isTrue();
    assertThat(NextStep.movedSinceCheck(after, null)).isFalse();
  }

  @Test
  void whatIsHotIsUncoveredWhateverItsCalibrationSaysAndAlsoOnceItIsSilent() {
    Heat heat = new Heat(Heat.Kind.HOT, 46, 45, "46.0 degC is over 45.0 degC", null);
    Calibration kept = mark(Status.MARK, Verdict.KEEP, null);
    assertThat(NextStep.of(GivenVerdicts.of("T-1", State.HOT), kept, true))
        .isEqualTo(NextStep.UNCOVER);
    assertThat(NextStep.of(GivenVerdicts.of("T-1", State.SILENT, 20_000, 60, heat), kept, true))
        .isEqualTo(NextStep.UNCOVER);
  }

  @Test
  void aSilentTrackerIsDoneWithWhereItsCalibrationWasKept() {
    Readiness silent = GivenVerdicts.of("T-1", State.SILENT);
    assertThat(NextStep.of(silent, null, true)).isEqualTo(NextStep.KEEP);
    assertThat(NextStep.of(silent, null, false)).isNull();
  }

  @ParameterizedTest
  @EnumSource(names = {"DISTURBED", "UNDECIDED", "SOAKING", "STALLED", "WARMING", "COOLING"})
  void whatIsNotReadyIsWaitedFor(State state) {
    assertThat(NextStep.of(GivenVerdicts.of("T-1", state), null, false)).isNull();
    assertThat(
            NextStep.of(
                GivenVerdicts.of("T-1", state), mark(Status.MARK, Verdict.KEEP, null), true))
        .isNull();
  }

  @Test
  void calibratedNowCanBeTrueOfWhatIsWarmEnoughOrWasJustLaidDown() {
    assertThat(may(State.READY, 800)).isTrue();
    assertThat(may(State.UNDECIDED, 800)).isTrue();
    assertThat(may(State.SOAKING, 299)).as("laid down within five minutes").isTrue();
    assertThat(may(State.SOAKING, 300)).isFalse();
    assertThat(may(State.COOLING, 100)).isTrue();
    assertThat(may(State.WARMING, 100)).isFalse();
    assertThat(may(State.STARTING, 10)).isFalse();
    assertThat(may(State.STALLED, 100)).isFalse();
    assertThat(may(State.DISTURBED, 0)).as("from no state").isFalse();
  }

  private static boolean may(State state, int stillS) {
    return NextStep.mayBeCalibrated(GivenVerdicts.of("T-1", state, LIFTED_S, stillS, null));
  }
}
