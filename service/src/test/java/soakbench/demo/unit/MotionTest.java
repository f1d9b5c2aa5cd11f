package soakbench.demo.unit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import soakbench.demo.unit.Motion.Kind;

class MotionTest {
  private static Motion motion(Kind kind) {
    return new Motion(10, 14, kind, new double[] {0, 0, 1}, 90, 0);
  }

  /** Rates by the trapezoid rule, which is exact but where a ramp ends within a step. */
  @ParameterizedTest
  @EnumSource(Kind.class)
  void theAngleIsTheRateSummedUp(Kind kind) {
    Motion motion = motion(kind);
    double angleDeg = 0;
    for (int i = 0; i < 4_000; i++) {
      double t = 10 + i / 1000.0;
      assertThat(motion.angleDegAt(t)).isCloseTo(angleDeg, within(1e-3));
      angleDeg += (motion.rateDpsAt(t) + motion.rateDpsAt(t + 0.001)) / 2 * 0.001;
    }
    assertThat(angleDeg).isCloseTo(90, within(1e-3));
    assertThat(motion.angleDegAt(14)).isCloseTo(90, within(1e-9));
  }

  @ParameterizedTest
  @EnumSource(Kind.class)
  void itBeginsAndEndsAtRestAndIsHalfWayInTheMiddle(Kind kind) {
    Motion motion = motion(kind);
    assertThat(motion.rateDpsAt(10)).isZero();
    assertThat(motion.rateDpsAt(14)).isZero();
    assertThat(motion.angleDegAt(10)).isZero();
    assertThat(motion.angleDegAt(12)).isCloseTo(45, within(1e-9));
  }

  /** A triangle of area 90 over 4 s is 45 high; with a tenth of run-up either side, 90/(4 0.9). */
  @Test
  void aBurstPeaksInItsMiddleAndATurnIsEven() {
    assertThat(motion(Kind.BURST).rateDpsAt(12)).isCloseTo(45, within(1e-9));
    assertThat(motion(Kind.BURST).rateDpsAt(11)).isCloseTo(22.5, within(1e-9));
    for (double t : new double[] {10.4, 11, 12, 13.6}) {
      assertThat(motion(Kind.TURN).rateDpsAt(t)).isCloseTo(25, within(1e-9));
    }
  }

  @Test
  void itHoldsFromItsFirstMomentAndNoMoreAtItsLast() {
    Motion motion = motion(Kind.TURN);
    assertThat(motion.holds(9.999)).isFalse();
    assertThat(motion.holds(10)).isTrue();
    assertThat(motion.holds(14)).isFalse();
  }
}
