package soakbench.numerics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import org.assertj.core.data.Offset;
import org.junit.jupiter.api.Test;

class GeneralizedFitTest {
  private static final Offset<Double> TINY = Offset.offset(1e-12);

  /**
   * By hand: mean of (1, 3) with covariance [[2, 1], [1, 5]]. Its inverse is [[5, -1], [-1, 2]] /
   * 9, so X'V^-1 X = 5/9, X'V^-1 y = (4 * 1 + 1 * 3) / 9 = 7/9, the mean 7/5 with variance 9/5, and
   * the weighted sum of squares of (-2/5, 8/5) is (5 * 4 + 2 * 16 + 2 * 64) / (25 * 9) = 4/5.
   */
  @Test
  void aTinyCaseByHandComesOut() {
    double[][] design = {{1}, {1}};
    double[][] covariance = {{2, 1}, {1, 5}};
    GeneralizedFit fit = GeneralizedFit.of(design, new double[] {1, 3}, covariance);
    assertThat(fit.coefficients()[0]).isEqualTo(7.0 / 5, TINY);
    assertThat(fit.covariance()[0][0]).isEqualTo(9.0 / 5, TINY);
    assertThat(fit.weightedRss()).isEqualTo(4.0 / 5, TINY);
    assertThat(fit.degreesOfFreedom()).isEqualTo(1);
    double likelihood = -0.5 * (Math.log(9) + Math.log(5.0 / 9) + 4.0 / 5);
    assertThat(fit.restrictedLogLikelihood()).isEqualTo(likelihood, TINY);
  }

  @Test
  void withWhiteNoiseItIsOrdinaryLeastSquares() {
    int n = 40;
    double sd = 0.3;
    double[] e = Noises.white(n, sd, 11);
    double[][] design = new double[n][];
    double[] y = new double[n];
    double[][] covariance = new double[n][n];
    for (int i = 0; i < n; i++) {
      design[i] = PolynomialFit.powers((i - 20) / 20.0, 3);
      y[i] = 1 + 2 * design[i][1] - design[i][3] + e[i];
      covariance[i][i] = sd * sd;
    }
    GeneralizedFit generalized = GeneralizedFit.of(design, y, covariance);
    LinearFit ordinary = LinearFit.of(design, y);
    assertThat(generalized.coefficients()).containsExactly(ordinary.coefficients(), TINY);
    assertThat(generalized.weightedRss())
        .isEqualTo(ordinary.rss() / (sd * sd), Offset.offset(1e-9));
    for (int j = 0; j < 4; j++) {
      assertThat(generalized.covariance()[j][j])
          .isEqualTo(sd * sd * ordinary.unscaledCovariance()[j][j], TINY);
    }
  }

  /** X'X = [[2, 2], [2, 2 + e^2]], whose inverse has no digit left that tells its columns apart. */
  @Test
  void columnsThatAreToldApartByNextToNothingHaveTheirLikelihood() {
    double e = 1e-9;
    double[][] design = {{1, 1}, {1, 1}, {0, e}};
    double[][] covariance = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
    GeneralizedFit fit = GeneralizedFit.of(design, new double[] {1, 3, 0}, covariance);
    double likelihood = -0.5 * (Math.log(2 * e * e) + 2);
    assertThat(fit.restrictedLogLikelihood()).isEqualTo(likelihood, Offset.offset(1e-6));
  }

  @Test
  void aCovarianceThatIsNoneIsRefused() {
    double[][] design = {{1}, {1}};
    double[][] none = {{1, 2}, {2, 1}};
    assertThatThrownBy(() -> GeneralizedFit.of(design, new double[] {1, 2}, none))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("the covariance is not positive definite (row 1)");
    double[][] unknown = {{Double.NaN, 0}, {0, 1}};
    assertThatThrownBy(() -> GeneralizedFit.of(design, new double[] {1, 2}, unknown))
        .hasMessage("the covariance is not positive definite (row 0)");
  }
}
