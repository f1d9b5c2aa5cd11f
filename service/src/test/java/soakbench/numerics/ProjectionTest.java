package soakbench.numerics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

/** Small least-squares problems by hand. */
class ProjectionTest {

  /**
   * The line through (0, 6), (1, 0), (2, 0) (a textbook example, from memory): 5 - 3 x, residuals
   * 1, -2, 1. X'X is [[3, 3], [3, 5]] with the determinant 6; the first diagonal entry of its
   * inverse is 5/6.
   */
  @Test
  void theLineThroughThreePointsComesOut() {
    double[][] columns = {{1, 1, 1}, {0, 1, 2}};
    Projection fit = Projection.of(columns, new double[] {6, 0, 0});
    assertThat(fit.coefficients()).containsExactly(new double[] {5, -3}, within(1e-13));
    assertThat(fit.rss()).isCloseTo(6, within(1e-13));
    assertThat(fit.unscaledVariance()).isCloseTo(5 / 6.0, within(1e-13));
    assertThat(fit.logGram()).isCloseTo(Math.log(6), within(1e-13));
  }

  @Test
  void aMeanIsTheProjectionOnALevel() {
    double[][] level = {{1, 1, 1, 1}};
    Projection fit = Projection.of(level, new double[] {1, 3, 5, 7});
    assertThat(fit.coefficients()[0]).isCloseTo(4, within(1e-14));
    assertThat(fit.unscaledVariance()).isCloseTo(1 / 4.0, within(1e-14));
    assertThat(fit.rss()).isCloseTo(9 + 1 + 1 + 9, within(1e-13));
  }

  @Test
  void columnsAtRightAnglesAreFittedOneByOne() {
    double[][] columns = {{1, 1, 1, 1}, {-1, -1, 1, 1}, {-1, 1, -1, 1}};
    double[] y = new double[4];
    for (int i = 0; i < 4; i++) {
      y[i] = 2 + 3 * columns[1][i] - 5 * columns[2][i];
    }
    Projection fit = Projection.of(columns, y);
    assertThat(fit.coefficients()).containsExactly(new double[] {2, 3, -5}, within(1e-14));
    assertThat(fit.rss()).isCloseTo(0, within(1e-25));
  }

  @Test
  void whatIsTakenOffIsThePartAlongTheUnit() {
    double[] from = {3, 4};
    double[] unit = {0.6, 0.8};
    assertThat(Projection.takeOff(from, unit)).isCloseTo(5, within(1e-14));
    assertThat(from).containsExactly(new double[] {0, 0}, within(1e-14));
  }

  @Test
  void productsOfAnyLengthAreSummedWhole() {
    for (int n = 0; n < 12; n++) {
      double[] a = new double[n];
      double[] b = new double[n];
      for (int i = 0; i < n; i++) {
        a[i] = i + 1;
        b[i] = 1;
      }
      assertThat(Projection.dot(a, b)).as("%s entries", n).isEqualTo(n * (n + 1) / 2.0);
    }
  }

  @Test
  void aColumnOfZerosFitsNothing() {
    double[][] columns = {{1, 1, 1}, {0, 0, 0}};
    Projection fit = Projection.of(columns, new double[] {1, 2, 3});
    assertThat(fit.rss()).isInfinite();
    assertThat(fit.unscaledVariance()).isNaN();
  }
}
