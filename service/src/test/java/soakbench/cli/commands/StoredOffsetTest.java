package soakbench.cli.commands;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.hipparchus.analysis.polynomials.PolynomialFunction;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.demo.simulation.HandlingRuns;
import soakbench.demo.simulation.Recipe;
import soakbench.demo.unit.Axis;
import soakbench.demo.unit.Correction;
import soakbench.demo.unit.Handling;
import soakbench.drift.curve.BiasCurve;
import soakbench.live.StoreContents;
import soakbench.live.figures.SoakAnalysis;
import soakbench.model.Estimate;
import soakbench.model.Limits;
import soakbench.model.State;
import soakbench.model.StateChange;
import soakbench.model.Tracker.Rates;
import soakbench.readiness.Calibration;
import soakbench.readiness.CalibrationCheck;
import soakbench.readiness.CalibrationCheck.Verdict;

/**
 * One soak of firmware that takes a stored offset off, calibrated by off and on in its middle, so
 * that another offset is taken off from then on: beside the same unit that prints its rates as they
 * are measured.
 */
class StoredOffsetTest {
  private static final Correction STORED = Correction.of(Correction.Kind.STORED);

  /** What one soak shows. */
  private record Shown(List<StateChange> timeline, BiasCurve curve, List<Calibration> marks) {
    static Shown of(long seed, Correction correction, Rates told) {
      HandledRun run = HandledRun.of(HandlingRuns.calibratedInTheMiddle(seed, correction), told);
      StoreContents kept = StoreContents.of(run.store(), run.tracker());
      assertThat(kept.soaks()).hasSize(1);
      return new Shown(
          kept.timeline(0),
          SoakAnalysis.of(run.bins(), Limits.DEFAULT, told).biasCurve(),
          run.calibrations(told));
    }

    CalibrationCheck check() {
      assertThat(marks).hasSize(1);
      return marks.get(0).check().result();
    }

    boolean ready(long fromUs, long toUs) {
      return timeline.stream()
          .anyMatch(c -> c.state() == State.READY && c.timeUs() >= fromUs && c.timeUs() < toUs);
    }
  }

  private static Handling handling(Recipe recipe) {
    return recipe.events().handlings().get(0);
  }

  private static void isReadyBeforeAndAfter(long seed, Shown shown) {
    Recipe recipe = HandlingRuns.calibratedInTheMiddle(seed, STORED);
    long liftedUs = recipe.startUs() + Math.round(1e6 * handling(recipe).fromS());
    assertThat(shown.ready(recipe.startUs(), liftedUs)).as("before").isTrue();
    assertThat(shown.ready(liftedUs, Long.MAX_VALUE)).as("after").isTrue();
  }

  private static void sameStates(List<StateChange> found, List<StateChange> raw, long withinUs) {
    assertThat(found)
        .extracting(StateChange::state)
        .containsExactlyElementsOf(raw.stream().map(StateChange::state).toList());
    for (int i = 0; i < raw.size(); i++) {
      assertThat(found.get(i).timeUs()).isCloseTo(raw.get(i).timeUs(), within(withinUs));
    }
  }

  private static void isJudgedAsMeasured(long seed, long withinUs) {
    Shown raw = Shown.of(seed, Correction.NONE, Rates.RAW);
    Shown stored = Shown.of(seed, STORED, Rates.CONSTANT);
    isReadyBeforeAndAfter(seed, stored);
    sameStates(stored.timeline(), raw.timeline(), withinUs);
    assertThat(stored.curve().reason()).isNull();
    for (int i = 0; i < 3; i++) {
      Estimate expected = raw.curve().axes().get(i).figures().tempcoDpsPerC();
      Estimate found = stored.curve().axes().get(i).figures().tempcoDpsPerC();
      assertThat(found.value()).isBetween(expected.low(), expected.high());
      assertThat(found.se()).isCloseTo(expected.se(), within(0.1 * expected.se()));
    }
  }

  @ParameterizedTest
  @ValueSource(longs = {3, 7})
  void statesAndCurveAreThoseOfTheRatesAsMeasuredBeforeAndAfterTheOffsetSteps(long seed) {
    isJudgedAsMeasured(seed, 0);
  }

  /** The belief in an offset after hands is wide, not without end: that may cost some seconds. */
  @Test
  @Tag("bench")
  void soAreThoseOfTwoDozenOthersToFiveSeconds() {
    for (long seed = 100; seed < 124; seed++) {
      isJudgedAsMeasured(seed, 5_000_000);
    }
  }

  /** Found out without a word of the roster, if later: what is near zero might be drawn there. */
  @Test
  void itIsReadyBeforeAndAfterAlsoWhereNobodySaidAnything() {
    isReadyBeforeAndAfter(3, Shown.of(3, STORED, Rates.UNKNOWN));
  }

  @Test
  void whereItIsSaidToFollowItIsNotJudged() {
    Shown followed = Shown.of(3, STORED, Rates.FOLLOWS);
    assertThat(followed.timeline()).extracting(StateChange::state).doesNotContain(State.READY);
    assertThat(followed.curve().reason()).startsWith("corrected inside, as the roster says");
    CalibrationCheck check = followed.check();
    assertThat(check.verdict()).isEqualTo(Verdict.UNKNOWN);
    assertThat(check.verdictNow()).isEqualTo(Verdict.KEEP);
    assertThat(check.reason()).startsWith("good now; in use not known: corrected inside");
  }

  /** A steep unit, calibrated some degrees too cool. */
  @Test
  void aStoredOffsetThatIsGoodWhereItLiesAndTooMuchInUseIsToBeDoneAgainWarmer() {
    long seed = 5;
    Recipe recipe = HandlingRuns.calibratedInTheMiddle(seed, STORED);
    HandledRun run = HandledRun.of(recipe, Rates.CONSTANT);
    Calibration.Check mark = run.calibrations(Rates.CONSTANT).get(0).check();
    CalibrationCheck check = mark.result();
    assertThat(check.verdictNow()).isEqualTo(Verdict.KEEP);
    assertThat(check.verdict()).isEqualTo(Verdict.DO_AGAIN);
    assertThat(check.how()).isEqualTo("warmer: nearer to the 31.0 degC of use");

    double nowC =
        run.bins().stream()
            .filter(b -> b.second() <= mark.toUs() / 1_000_000)
            .reduce((a, b) -> b)
            .map(b -> b.temperatureC().mean())
            .orElseThrow();
    Axis y = recipe.unit().axes().get(1);
    PolynomialFunction curve = new PolynomialFunction(y.coefficients());
    double adds = curve.value(31 - Axis.REFERENCE_C) - curve.value(nowC - Axis.REFERENCE_C);
    Estimate inUse = check.degPerMinInUse();
    assertThat(inUse.value() - 60 * check.residualDps().get(1).value())
        .isCloseTo(60 * adds, within(3 * inUse.se()));
  }
}
