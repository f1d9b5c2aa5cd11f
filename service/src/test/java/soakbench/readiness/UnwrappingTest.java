package soakbench.readiness;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Collections;
import java.util.Optional;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import soakbench.drift.still.FastResponse;
import soakbench.drift.still.Stillness.Answer;
import soakbench.model.Limits;
import soakbench.thermal.cooling.Cooling;

/** Whose cooling the time unwrapped is read from, and what is said where there is none. */
class UnwrappingTest {
  private final Unwrapping unwrapping = new Unwrapping(Limits.DEFAULT);
  private final Evidences e = new Evidences();

  private static double opened(double tS) {
    return 31 - 3 * -Math.expm1(-Math.max(0, tS - 600) / 60);
  }

  private void seconds(int count) {
    JudgedSeconds seconds = new JudgedSeconds(UnwrappingTest::opened, 0.02);
    for (int s = 0; s < count; s++) {
      unwrapping.accept(seconds.at(s), s + 0.5, Answer.STILL, 0, e.models);
    }
  }

  /** A fall of 0.01 degC a second, of whom it is asked. */
  private static CoolingSource source(boolean ofTracker, boolean ofMates) {
    double[] drop = IntStream.rangeClosed(0, 300).mapToDouble(s -> 0.01 * s).toArray();
    double[] rate = IntStream.rangeClosed(0, 300).mapToDouble(s -> 0.01).toArray();
    FastResponse none = new FastResponse(0, 0, 0, 0, 0, 0);
    RecordedCooling cooling =
        new RecordedCooling(new Cooling(0, 31, drop, rate, 0, 0), Collections.nCopies(3, none));
    return new CoolingSource() {
      @Override
      public Optional<RecordedCooling> ofTracker(String tracker) {
        return ofTracker ? Optional.of(cooling) : Optional.empty();
      }

      @Override
      public Optional<RecordedCooling> ofMates(String tracker) {
        return ofMates ? Optional.of(cooling) : Optional.empty();
      }
    };
  }

  private Unwrapped answer(CoolingSource elsewhere) {
    return unwrapping.answer("T", e.make(), elsewhere);
  }

  @Test
  void withoutAnyCoolingItSaysWhatToDo() {
    Unwrapped none = answer(CoolingSource.NONE);
    assertThat(none.reason()).isEqualTo(Unwrapped.UNCOVER_ONE);
    assertThat(none.source()).isNull();
    assertThat(none.spreadDps()).hasSize(3).allMatch(s -> !s.known());
  }

  @Test
  void itsOwnOfThisSoakGoesBeforeItsOwnOfAnotherAndThatBeforeAMates() {
    assertThat(answer(source(false, true)).source()).isEqualTo(Unwrapped.MATES);
    Unwrapped earlier = answer(source(true, true));
    assertThat(earlier.source()).isEqualTo(Unwrapped.OWN);
    // 0.010 deg/s at 0.02 deg/s per degC and 0.01 degC/s.
    assertThat(earlier.timeS().value()).isCloseTo(50, within(3.0));
    seconds(1000);
    assertThat(unwrapping.recorded()).hasSize(1);
    Unwrapped now = answer(source(true, true));
    assertThat(now.source()).isEqualTo(Unwrapped.OWN);
    // Half a degree of three, with a constant of a minute.
    assertThat(now.timeS().value()).isCloseTo(-60 * Math.log(1 - 0.5 / 3), within(4.0));
  }

  @Test
  void withoutABiasCurveItWaits() {
    e.models = null;
    assertThat(answer(source(true, false)).reason())
        .isEqualTo("not known yet, because two minutes of lying still are needed");
  }

  @Test
  void aCoolingThatCannotBeUsedIsToldWithItsReason() {
    seconds(640);
    JudgedSeconds covered = new JudgedSeconds(t -> 31, 0);
    for (int s = 640; s < 700; s++) {
      unwrapping.accept(covered.at(s), s + 0.5, Answer.STILL, 0, e.models);
    }
    assertThat(answer(CoolingSource.NONE).reason())
        .startsWith(Unwrapped.UNCOVER_ONE + "; its cooling can't be used: it lay open for only");
  }

  @Test
  void anAnswerStandsForAMinute() {
    Unwrapped first = answer(source(false, true));
    e.tS += 59;
    CoolingSource same = source(false, true);
    assertThat(unwrapping.answer("T", e.make(), same)).isNotSameAs(first);
    Unwrapped second = unwrapping.answer("T", e.make(), same);
    e.tS = 1560;
    assertThat(unwrapping.answer("T", e.make(), same)).isNotSameAs(second).isEqualTo(second);
  }
}
