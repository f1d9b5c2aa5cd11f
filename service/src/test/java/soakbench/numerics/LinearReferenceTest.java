package soakbench.numerics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import soakbench.ReferenceFile;
import soakbench.ReferenceFile.Certified;

/**
 * Polynomials against the certified results of the NIST Statistical Reference Datasets (StRD),
 * linear least squares.
 */
class LinearReferenceTest {

  /**
   * One set, the order of its model and the digits that must agree: of coefficients and residual
   * standard deviation, and of the coefficients' standard deviations.
   */
  enum Accuracy {
    /** NIST StRD Norris: J. Norris, calibration of ozone monitors. */
    NORRIS("nist-lls-norris", 1, 12, 12),
    /** NIST StRD Pontius: P. Pontius, load cell calibration. */
    PONTIUS("nist-lls-pontius", 2, 11, 11),
    /** NIST StRD Wampler1: R. H. Wampler 1970, JASA 65. The fit is exact. */
    WAMPLER1("nist-lls-wampler1", 5, 9, 9),
    /** NIST StRD Wampler4: the same with large noise. */
    WAMPLER4("nist-lls-wampler4", 5, 7.5, 7.5),
    /** NIST StRD Filip: A. Filippelli; condition 1.8e15 in plain powers. */
    FILIP("nist-lls-filip", 10, 7, 7);

    final String set;
    final int order;
    final double digits;
    final double stddevDigits;

    Accuracy(String set, int order, double digits, double stddevDigits) {
      this.set = set;
      this.order = order;
      this.digits = digits;
      this.stddevDigits = stddevDigits;
    }

    PolynomialFit fit() {
      ReferenceFile data = ReferenceFile.of(set);
      return PolynomialFit.of(data.column("x"), data.column("y"), order, 0);
    }

    Certified certified() {
      return ReferenceFile.certified(set);
    }
  }

  @ParameterizedTest
  @EnumSource
  void coefficientsAgreeInTheDigitsPromised(Accuracy set) {
    PolynomialFit fit = set.fit();
    for (int k = 0; k <= set.order; k++) {
      double digits = Digits.agreeing(fit.coefficients()[k], set.certified().value("B" + k));
      assertThat(digits).as("digits of B%d", k).isGreaterThanOrEqualTo(set.digits);
    }
  }

  @ParameterizedTest
  @EnumSource
  void standardDeviationsOfTheCoefficientsAgree(Accuracy set) {
    PolynomialFit fit = set.fit();
    for (int k = 0; k <= set.order; k++) {
      double digits = Digits.agreeing(fit.standardError(k), set.certified().stddev("B" + k));
      assertThat(digits).as("digits of the deviation of B%d", k).isGreaterThan(set.stddevDigits);
    }
  }

  @ParameterizedTest
  @EnumSource
  void theResidualStandardDeviationAgrees(Accuracy set) {
    double computed = Math.sqrt(set.fit().residualVariance());
    assertThat(Digits.agreeing(computed, set.certified().value("residual_sd")))
        .isGreaterThanOrEqualTo(set.stddevDigits);
  }

  @Test
  void theReferencePointOnlyMovesTheOrigin() {
    ReferenceFile data = ReferenceFile.of("nist-lls-pontius");
    double[] x = data.column("x");
    PolynomialFit zero = PolynomialFit.of(x, data.column("y"), 2, 0);
    double at = 1.5e6;
    PolynomialFit moved = PolynomialFit.of(x, data.column("y"), 2, at);
    double[] c = zero.coefficients();
    double value = c[0] + c[1] * at + c[2] * at * at;
    double slope = c[1] + 2 * c[2] * at;
    assertThat(Digits.agreeing(moved.coefficients()[0], value)).isGreaterThan(11);
    assertThat(Digits.agreeing(moved.coefficients()[1], slope)).isGreaterThan(11);
    assertThat(Digits.agreeing(moved.coefficients()[2], c[2])).isGreaterThan(10);
  }

  @Test
  void tooFewDifferentPointsAreRefused() {
    double[] x = {1, 1, 1, 2, 2, 2};
    double[] y = {1, 2, 3, 4, 5, 6};
    assertThatThrownBy(() -> PolynomialFit.of(x, y, 2, 0))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("column 2 depends on the columns before it");
    assertThatThrownBy(() -> PolynomialFit.of(new double[] {1}, new double[] {1}, 1, 0))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("1 rows can't determine 2 coefficients");
  }
}
