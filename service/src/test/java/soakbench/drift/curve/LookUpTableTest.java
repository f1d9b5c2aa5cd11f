package soakbench.drift.curve;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Straight lines between values of known polynomials. */
class LookUpTableTest {
  private static final double[] RANGE_C = {20, 36};

  /** A curve whose level has an error of 0.01 and whose slope one of 0.002 per degC. */
  private static BiasCurve.Powers powers(double... coefficients) {
    int n = coefficients.length;
    double[][] covariance = new double[n][n];
    if (n > 1) {
      covariance[0][0] = 1e-4;
      covariance[1][1] = 4e-6;
    }
    RepeatedErrors none = new RepeatedErrors(new double[n], new double[n]);
    return new BiasCurve.Powers(n - 1, coefficients, covariance, 1.96, none);
  }

  @Test
  void aStraightCurveIsHeldToSinglePrecision() {
    LookUpTable table = LookUpTable.of(28, RANGE_C, powers(0.1, 0.02), 3);
    assertThat(table.lowC()).isEqualTo(20);
    assertThat(table.stepC()).isEqualTo(8);
    assertThat(table.biasDps()).containsExactly((float) -0.06, 0.1f, (float) 0.26);
    assertThat(table.worstErrorDps()).isLessThan(2e-8);
    float ends = (float) Math.hypot(0.01, 8 * 0.002);
    assertThat(table.standardErrorDps()).containsExactly(ends, 0.01f, ends);
  }

  /** Between two values h apart a chord of c u^2 is off by c h^2 / 4 in the middle. */
  @ParameterizedTest
  @ValueSource(ints = {2, 5, 9, 17})
  void aQuadraticIsOffByAQuarterOfItsStepSquared(int points) {
    LookUpTable table = LookUpTable.of(28, RANGE_C, powers(0, 0, -0.001), points);
    double stepC = 16.0 / (points - 1);
    assertThat(table.worstErrorDps()).isCloseTo(0.001 * stepC * stepC / 4, within(1e-8));
  }

  @Test
  void noCurveIsATableOfZeros() {
    LookUpTable table = LookUpTable.of(28, RANGE_C, powers(), 4);
    assertThat(table.biasDps()).containsOnly(0f).hasSize(4);
    assertThat(table.worstErrorDps()).isZero();
  }
}
