package soakbench.numerics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import soakbench.numerics.PolynomialFit.Scale;

/** Least squares and changes of basis by hand. */
class LinearFitTest {

  /** The line through (0, 6), (1, 0), (2, 0): 5 - 3 x, residuals 1, -2, 1. */
  @Test
  void aLineThroughThreePointsHasItsErrors() {
    LinearFit fit = LinearFit.of(new double[][] {{1, 0}, {1, 1}, {1, 2}}, new double[] {6, 0, 0});
    assertThat(fit.coefficients()).containsExactly(new double[] {5, -3}, within(1e-13));
    assertThat(fit.residuals()).containsExactly(new double[] {1, -2, 1}, within(1e-13));
    assertThat(fit.degreesOfFreedom()).isEqualTo(1);
    assertThat(fit.residualVariance()).isCloseTo(6, within(1e-12));
    assertThat(fit.unscaledCovariance()[0])
        .containsExactly(new double[] {5 / 6.0, -0.5}, within(1e-13));
    assertThat(fit.standardError(1)).as("root of 6 / 2").isCloseTo(Math.sqrt(3), within(1e-12));
  }

  @Test
  void withoutDegreesOfFreedomThereIsNoVariance() {
    LinearFit fit = LinearFit.of(new double[][] {{1, 0}, {1, 1}}, new double[] {2, 5});
    assertThat(fit.coefficients()).containsExactly(new double[] {2, 3}, within(1e-14));
    assertThat(fit.residualVariance()).isNaN();
  }

  @Test
  void tooFewRowsAreRefused() {
    assertThatIllegalArgumentException()
        .isThrownBy(() -> LinearFit.of(new double[][] {{1, 0}}, new double[] {1}))
        .withMessage("1 rows can't determine 2 coefficients (1 values)");
    assertThatIllegalArgumentException()
        .isThrownBy(() -> LinearFit.of(new double[0][], new double[0]));
  }

  @Test
  void powersAndScalesAreWhatTheySay() {
    assertThat(PolynomialFit.powers(3, 4)).containsExactly(1, 3, 9, 27, 81);
    Scale scale = Scale.of(new double[] {20, 34, 22, 30});
    assertThat(scale.centre()).isEqualTo(27);
    assertThat(scale.halfWidth()).isEqualTo(7);
    assertThat(scale.to(20)).isEqualTo(-1);
    assertThat(scale.to(34)).isEqualTo(1);
  }

  /** u = (x - 27) / 7 about 30: u = ((x - 30) + 3) / 7, u^2 = (9 + 6 z + z^2) / 49. */
  @Test
  void aChangeOfBasisIsTheBinomialTheorem() {
    double[][] m = PolynomialFit.changeOfBasis(new Scale(27, 7), 2, 30);
    assertThat(m[0]).containsExactly(new double[] {1, 3 / 7.0, 9 / 49.0}, within(1e-15));
    assertThat(m[1]).containsExactly(new double[] {0, 1 / 7.0, 6 / 49.0}, within(1e-15));
    assertThat(m[2]).containsExactly(new double[] {0, 0, 1 / 49.0}, within(1e-15));
  }

  /** 1e16 + 1 - 1e16 loses the one unless what is lost is kept. */
  @Test
  void termsThatCancelKeepTheirDigits() {
    double[][] m = {{1e16, 1, -1e16}};
    assertThat(PolynomialFit.times(m, new double[] {1, 1, 1})).containsExactly(1);
  }

  @Test
  void aSandwichIsMTimesTheInnerTimesItsTranspose() {
    double[][] m = {{1, 2}, {0, 1}};
    double[][] inner = {{4, 1}, {1, 3}};
    double[][] out = PolynomialFit.sandwich(m, inner, 2);
    assertThat(out[0]).containsExactly(40, 14);
    assertThat(out[1]).containsExactly(14, 6);
  }
}
