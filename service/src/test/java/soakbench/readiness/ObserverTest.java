package soakbench.readiness;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import soakbench.model.Estimate;
import soakbench.model.Limits;
import soakbench.model.SoakTerms;

/** The evidence of a warm-up of Newton's law with a coefficient of 0.02 deg/s per degC. */
class ObserverTest {
  private static final double TAU_S = 700;

  private final Observer observer = new Observer(SoakTerms.of(Limits.DEFAULT));
  private JudgedSeconds seconds = new JudgedSeconds(ObserverTest::celsius, 0.02);

  private static double celsius(double tS) {
    return 31.5 - 9 * Math.exp(-tS / TAU_S);
  }

  private void observe(int fromS, int toS) {
    for (int s = fromS; s < toS; s++) {
      observer.accept(seconds.at(s), false);
      // Heading for heat counts the time between two questions.
      observer.evidence(JudgedSeconds.START_S + s);
    }
  }

  private Evidence after(int second) {
    return observer.evidence(JudgedSeconds.START_S + second - 1);
  }

  @Test
  void rateAndShiftAreThoseOfTheLaw() {
    observe(0, 2400);
    Evidence e = after(2400);
    assertThat(e.tS()).isEqualTo(2400);
    assertThat(e.temperature().nowC()).isCloseTo(celsius(2400), within(0.01));
    double rate = 60 * 9 / TAU_S * Math.exp(-2400 / TAU_S);
    assertThat(e.temperature().rate().value()).isCloseTo(rate, within(0.005));
    double shift = 0.02 * (celsius(2580) - celsius(2400));
    List<Estimate> shifts = e.bias().shifts().eachDps();
    assertThat(shift).isBetween(shifts.get(0).low(), shifts.get(0).high());
    assertThat(-shift).isBetween(shifts.get(1).low(), shifts.get(1).high());
    // 60 * 0.02 deg/s per degC * the distance to 31 degC.
    double near = 60 * 0.02 * Math.abs(celsius(2400) - 31);
    assertThat(e.bias().nearUseDegPerMin()).isCloseTo(near, within(0.15));
    assertThat(e.temperature().followedS()).isBetween(1180.0, 2400.0);
    assertThat(e.temperature().level().value()).isCloseTo(31.5, within(0.2));
  }

  @Test
  void atFirstItSaysWhatIsStillNeeded() {
    observe(0, 5);
    assertThat(after(5).temperature().rate()).isNull();
    assertThat(after(5).temperature().rateReason())
        .isEqualTo("ten seconds of lying still are needed first");
    assertThat(after(5).bias().shiftReason())
        .isEqualTo("ten seconds of lying still are needed first");
    assertThat(after(5).bias().models()).isNull();
    assertThat(after(5).bias().nearUseDegPerMin()).isNaN();
    observe(5, 220);
    assertThat(after(220).temperature().rate()).isNotNull();
  }

  @Test
  void aTemperatureOlderThanHalfAMinuteIsNone() {
    observe(0, 600);
    seconds = new JudgedSeconds(t -> Double.NaN, 0);
    observe(600, 629);
    assertThat(after(629).temperature().known()).isTrue();
    observe(629, 631);
    Evidence lost = after(631);
    assertThat(lost.temperature().known()).isFalse();
    assertThat(lost.temperature().course()).isNull();
    assertThat(lost.dwell().heldS()).isZero();
    assertThat(lost.temperature().rateReason()).isEqualTo("no temperature for 32 s");
  }

  @Test
  void aWildTemperatureIsPassedOver() {
    observe(0, 600);
    double before = after(600).temperature().nowC();
    observer.accept(new JudgedSeconds(t -> 85, 0.02).at(600), true);
    assertThat(after(601).temperature().nowC()).isCloseTo(before, within(0.05));
    assertThat(after(601).heat()).isNull();
  }

  @Test
  void aGapCountsForAMinute() {
    observe(0, 300);
    observe(307, 366);
    assertThat(after(366).lines().gapS()).isCloseTo(7.1, within(1e-9));
    observe(366, 368);
    assertThat(after(368).lines().gapS()).isZero();
  }

  @Test
  void shakingIsAMotionWithItsTime() {
    observe(0, 300);
    assertThat(after(300).lines().movedS()).isEqualTo(Double.NEGATIVE_INFINITY);
    seconds.shaken(5);
    observe(300, 302);
    assertThat(after(302).lines().movedS()).isEqualTo(301.5);
    assertThat(after(302).lines().showMotion()).isTrue();
  }
}
