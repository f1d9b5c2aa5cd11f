package soakbench.demo.unit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

class AxisTest {
  private static final Axis AXIS =
      new Axis(
          new double[] {1, 2, 3, 4},
          5,
          new double[] {0.1, 0.2, 0.3},
          Axis.Settling.NONE,
          new Axis.Noise(0, 0, 0));

  /** 1 + 2 2 + 3 4 + 4 8 = 49 two degrees above, 1 - 2 + 3 - 4 = -2 one below. */
  @Test
  void theBiasIsACubicAboutItsTemperatureOfReference() {
    assertThat(AXIS.biasDps(31, 0, 0)).isEqualTo(1);
    assertThat(AXIS.biasDps(33, 0, 0)).isCloseTo(49, within(1e-12));
    assertThat(AXIS.biasDps(30, 0, 0)).isCloseTo(-2, within(1e-12));
  }

  @Test
  void aChangeOfTemperatureAddsItsLagByItsSign() {
    assertThat(AXIS.biasDps(31, 0.01, 0)).isCloseTo(1.05, within(1e-12));
    assertThat(AXIS.biasDps(31, -0.01, 0)).isCloseTo(0.95, within(1e-12));
  }

  /** After one time constant 36.8 % are left, after three 5.0 %. */
  @Test
  void whatPowerOnAddsDiesAwayByItsTimeConstant() {
    Axis settling = AXIS.with(new Axis.Settling(0.04, 300));
    assertThat(settling.biasDps(31, 0, 0)).isCloseTo(1.04, within(1e-12));
    assertThat(settling.biasDps(31, 0, 300)).isCloseTo(1 + 0.04 * 0.367879, within(1e-6));
    assertThat(settling.biasDps(31, 0, 900)).isCloseTo(1 + 0.04 * 0.049787, within(1e-6));
  }

  @Test
  void gravityAddsByItsDirection() {
    assertThat(AXIS.gravityDps(new double[] {0, 0, 1})).isCloseTo(0.3, within(1e-12));
    assertThat(AXIS.gravityDps(new double[] {-1, 0, 0})).isCloseTo(-0.1, within(1e-12));
    assertThat(AXIS.gravityDps(new double[] {0.6, 0.8, 0})).isCloseTo(0.22, within(1e-12));
  }

  @Test
  void anotherSlopeChangesNothingElse() {
    Axis steep = AXIS.withSlope(7);
    assertThat(steep.coefficients()).containsExactly(1, 7, 3, 4);
    assertThat(steep.lagDpsPerCPerS()).isEqualTo(5);
    assertThat(AXIS.coefficients()).containsExactly(1, 2, 3, 4);
  }

  @Test
  void nobodyChangesItFromOutside() {
    AXIS.coefficients()[0] = 99;
    AXIS.gravityDpsPerG()[0] = 99;
    assertThat(AXIS.biasDps(31, 0, 0)).isEqualTo(1);
    assertThat(AXIS.gravityDps(new double[] {1, 0, 0})).isCloseTo(0.1, within(1e-12));
  }
}
