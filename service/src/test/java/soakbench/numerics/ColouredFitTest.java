package soakbench.numerics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.hipparchus.distribution.continuous.TDistribution;
import org.hipparchus.linear.LUDecomposition;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.numerics.ColouredRegression.Component;

/** Generalized least squares with priors, outliers and mixtures, by hand and by the textbook. */
class ColouredFitTest {
  private static final double FREE = Double.POSITIVE_INFINITY;

  private static double[] evenly(int n) {
    double[] mid = new double[n];
    for (int i = 0; i < n; i++) {
      mid[i] = 15 + 30.0 * i;
    }
    return mid;
  }

  private static double[] filled(int n, double value) {
    double[] out = new double[n];
    java.util.Arrays.fill(out, value);
    return out;
  }

  private static double[][] line(int n) {
    double[][] rows = new double[n][];
    for (int i = 0; i < n; i++) {
      rows[i] = new double[] {1, 2.0 * i / (n - 1) - 1};
    }
    return rows;
  }

  private static ColouredFit white(RegressionDesign design, double[] y, double n) {
    double[][] v = new double[design.rows()][design.rows()];
    for (int i = 0; i < v.length; i++) {
      v[i][i] = 1 / design.widthS()[i];
    }
    Cholesky factor = Cholesky.of(v);
    return ColouredFit.of(design, factor, factor.whitened(design.columns()), y, 0, n);
  }

  /**
   * By hand: four blocks of one second read a level with the variance n^2 = 4, of which 0 +- 1 is
   * believed. The mean 6 has the variance 1 and so has the belief: 3 with the variance 1/2.
   */
  @Test
  void aPriorWeighsAsOneMoreReading() {
    double[][] level = {{1}, {1}, {1}, {1}};
    RegressionDesign design =
        new RegressionDesign(level, new double[] {1}, new double[] {0, 1, 2, 3}, filled(4, 1));
    ColouredFit fit = white(design, new double[] {5, 7, 6, 6}, 2);
    assertThat(fit.coefficients()[0]).isCloseTo(3, within(1e-12));
    assertThat(fit.whiteN()).isEqualTo(2);
    double free =
        white(
                new RegressionDesign(level, new double[] {FREE}, design.midS(), design.widthS()),
                new double[] {5, 7, 6, 6},
                2)
            .coefficients()[0];
    assertThat(free).isCloseTo(6, within(1e-12));
  }

  /** The blocks scatter as the noise says or less: then the covariance is the noise's. */
  @Test
  void theCovarianceGrowsWhereTheBlocksScatterMore() {
    double[][] level = {{1}, {1}, {1}, {1}};
    RegressionDesign design =
        new RegressionDesign(level, new double[] {FREE}, evenly(4), filled(4, 30));
    double n = Math.sqrt(30);
    double quiet = white(design, new double[] {0.1, -0.1, 0.1, -0.1}, n).covariance()[0][0];
    assertThat(quiet).as("1 / 4").isCloseTo(0.25, within(1e-12));
    double loud = white(design, new double[] {3, -3, 3, -3}, n).covariance()[0][0];
    assertThat(loud).as("36 / 3 times as much").isCloseTo(0.25 * 12, within(1e-12));
  }

  /** b = (X' V^-1 X)^-1 X' V^-1 y with a dense inverse, as textbooks write it. */
  @ParameterizedTest
  @ValueSource(doubles = {0.05, 0.3, 1.5})
  void eachRatioIsTheTextbooksFormula(double ratio) {
    int n = 24;
    double[] y = Noises.sum(Noises.white(n, 0.2, 5), filled(n, 1));
    RegressionDesign design =
        new RegressionDesign(line(n), new double[] {FREE, FREE}, evenly(n), filled(n, 30));
    RealMatrix v =
        MatrixUtils.createRealMatrix(
            ColouredNoise.covariance(design.midS(), design.widthS(), 1, ratio));
    RealMatrix x = MatrixUtils.createRealMatrix(design.columns());
    RealMatrix inverse = new LUDecomposition(v).getSolver().getInverse();
    RealMatrix gram = x.transposeMultiply(inverse.multiply(x));
    double[] b =
        new LUDecomposition(gram)
            .getSolver()
            .getInverse()
            .operate(x.transpose().operate(inverse.operate(y)));
    Cholesky factor = Cholesky.of(v.getData());
    ColouredFit fit =
        ColouredFit.of(design, factor, factor.whitened(design.columns()), y, ratio, 1);
    assertThat(fit.coefficients()).containsExactly(b, within(1e-9));
    Component at = new Component(ratio, 1, 1, fit.coefficients(), fit.covariance());
    assertThat(ColouredGrid.responses(design, new double[][] {y}, at)[0])
        .containsExactly(b, within(1e-9));
  }

  @Test
  void whatTheColumnsExplainExactlyTheirResponseExplains() {
    int n = 20;
    RegressionDesign design =
        new RegressionDesign(line(n), new double[] {FREE, FREE}, evenly(n), filled(n, 30));
    double[] values = new double[n];
    for (int i = 0; i < n; i++) {
      values[i] = 3 - 2 * design.columns()[i][1];
    }
    Component at = new Component(0.5, 1, 0.01, new double[2], new double[2][2]);
    assertThat(ColouredGrid.responses(design, new double[][] {values}, at)[0])
        .containsExactly(new double[] {3, -2}, within(1e-10));
  }

  @Test
  void theGridsWeightsSumToOneAndResidualsAreWhatTheMeanLeaves() {
    int n = 60;
    double[] y = Noises.white(n, 0.01, 3);
    RegressionDesign design =
        new RegressionDesign(line(n), new double[] {FREE, FREE}, evenly(n), filled(n, 30));
    double[] deviation1s = {0.01 * Math.sqrt(30)};
    ColouredRegression fit = ColouredGrid.fit(design, new double[][] {y}, deviation1s).get(0);
    assertThat(fit.components().stream().mapToDouble(Component::weight).sum())
        .isCloseTo(1, within(1e-12));
    assertThat(fit.degreesOfFreedom()).isEqualTo(n - 2);
    assertThat(fit.likeliest().ratio()).as("white noise").isLessThan(0.1);
    double[] b = fit.coefficients();
    for (int i = 0; i < n; i++) {
      assertThat(fit.residuals()[i])
          .isCloseTo(y[i] - b[0] - b[1] * design.columns()[i][1], within(1e-12));
    }
    for (Component c : fit.components()) {
      double seen = c.whiteN() * Math.sqrt(1 + 2 * Math.log(2) / Math.PI * c.ratio() * c.ratio());
      assertThat(seen)
          .as("all ratios make the deviation at 1 s")
          .isCloseTo(deviation1s[0], within(1e-12));
    }
  }

  private static ColouredRegression mixture(Component... components) {
    double[] mean = new double[1];
    double square = 0;
    for (Component c : components) {
      mean[0] += c.weight() * c.coefficients()[0];
    }
    for (Component c : components) {
      double off = c.coefficients()[0] - mean[0];
      square += c.weight() * (c.covariance()[0][0] + off * off);
    }
    return new ColouredRegression(
        List.of(components), mean, new double[][] {{square}}, new double[12], 10);
  }

  private static Component component(double weight, double mean, double sd) {
    return new Component(1, weight, 1, new double[] {mean}, new double[][] {{sd * sd}});
  }

  @Test
  void oneRatioAloneHasStudentsQuantile() {
    double t = new TDistribution(10).inverseCumulativeProbability(0.975);
    assertThat(mixture(component(1, 2, 0.5)).quantile(new double[] {1})).isCloseTo(t, within(1e-3));
    assertThat(mixture(component(1, 2, 0.5)).quantile(new double[] {0})).isZero();
  }

  /**
   * Half at -1 and half at 1, each hardly spread: all of it is at one standard error, so the
   * interval ends there and not at 1.96.
   */
  @Test
  void twoRatiosFarApartHaveShortTails() {
    double t = new TDistribution(10).inverseCumulativeProbability(0.975) / 1.959964;
    double q =
        mixture(component(0.5, -1, 0.001), component(0.5, 1, 0.001)).quantile(new double[] {1});
    assertThat(q).isCloseTo(t, within(0.01));
  }

  @Test
  void aSmallShareFarOffHasLongTails() {
    double q = mixture(component(0.94, 0, 0.1), component(0.06, 3, 0.1)).quantile(new double[] {1});
    assertThat(q).isGreaterThan(3.5);
  }

  @Test
  void ofAMixtureOfRatiosFlickerIsTheMean() {
    Component a = new Component(2, 0.25, 3, new double[1], new double[1][1]);
    Component b = new Component(1, 0.75, 4, new double[1], new double[1][1]);
    ColouredRegression fit =
        new ColouredRegression(List.of(a, b), new double[1], new double[1][1], new double[2], 1);
    assertThat(fit.flickerB()).isEqualTo(0.25 * 6 + 0.75 * 4);
    assertThat(fit.likeliest()).isSameAs(b);
    double[][] covariance = {{4, 1}, {1, 9}};
    assertThat(ColouredRegression.quadratic(new double[] {1, -2}, covariance)).isEqualTo(36);
  }

  private static boolean[] kept(double[] y) {
    int n = y.length;
    RegressionDesign design =
        new RegressionDesign(line(n), new double[] {FREE, FREE}, evenly(n), filled(n, 30));
    double[][] axes = {y};
    double[] deviation1s = {0.01 * Math.sqrt(30)};
    return BlockOutliers.kept(design, axes, ColouredGrid.fit(design, axes, deviation1s));
  }

  @Test
  void aStrayBlockIsDroppedAndItsNeighboursAreKept() {
    double[] y = Noises.white(60, 0.01, 7);
    y[20] += 0.3;
    boolean[] kept = kept(y);
    for (int i = 0; i < 60; i++) {
      assertThat(kept[i]).as("block %s", i).isEqualTo(i != 20);
    }
  }

  @Test
  void noMoreThanFifteenInAHundredAreDropped() {
    double[] y = Noises.white(40, 0.01, 8);
    for (int i = 0; i < 16; i++) {
      y[(i * 7) % 40] += i % 2 == 0 ? 2 + i : -2 - i;
    }
    int dropped = 0;
    for (boolean k : kept(y)) {
      dropped += k ? 0 : 1;
    }
    assertThat(dropped).isLessThanOrEqualTo(6);
  }
}
