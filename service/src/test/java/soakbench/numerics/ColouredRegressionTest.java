package soakbench.numerics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.List;
import org.assertj.core.data.Offset;
import org.assertj.core.data.Percentage;
import org.junit.jupiter.api.Test;

class ColouredRegressionTest {
  private static final int BLOCKS = 60;
  private static final double NONE = Double.POSITIVE_INFINITY;
  private static final double WHITE = 0.01;

  /** Offset and slope over time, and a third column that fades. */
  private static RegressionDesign design(double thirdSd) {
    double[][] x = new double[BLOCKS][];
    double[] mid = new double[BLOCKS];
    double[] width = new double[BLOCKS];
    for (int i = 0; i < BLOCKS; i++) {
      mid[i] = 30 * i + 15;
      width[i] = 30;
      x[i] = new double[] {1, 2.0 * i / (BLOCKS - 1) - 1, Math.exp(-i / 8.0)};
    }
    return new RegressionDesign(x, new double[] {NONE, NONE, thirdSd}, mid, width);
  }

  private static double[] blockMeans(double[] seconds) {
    double[] out = new double[BLOCKS];
    for (int s = 0; s < 30 * BLOCKS; s++) {
      out[s / 30] += seconds[s] / 30;
    }
    return out;
  }

  private static double[] noise(double white, double flicker, int run) {
    return blockMeans(
        Noises.sum(
            Noises.white(30 * BLOCKS, white, 40 + run),
            Noises.flicker(30 * BLOCKS, flicker, 4000 + run)));
  }

  private static ColouredRegression fit(RegressionDesign design, double[] y) {
    return ColouredGrid.fit(design, new double[][] {y}, new double[] {WHITE}).get(0);
  }

  /** Beliefs as further rows are the same as their spread in the noise (Henderson 1975). */
  @Test
  void eachRatioIsGeneralizedLeastSquaresWithTheBeliefInTheNoise() {
    double sd = 0.02;
    RegressionDesign believed = design(sd);
    double[] y = noise(WHITE, 0.002, 1);
    double[][] two = new double[BLOCKS][];
    for (int i = 0; i < BLOCKS; i++) {
      two[i] = java.util.Arrays.copyOf(believed.columns()[i], 2);
    }
    double mostGeneralized = Double.NEGATIVE_INFINITY;
    double heaviest = 0;
    double ratioGeneralized = 0;
    double ratioHeaviest = 0;
    for (ColouredRegression.Component c : fit(believed, y).components()) {
      double[][] v =
          ColouredNoise.covariance(
              believed.midS(), believed.widthS(), c.whiteN(), c.ratio() * c.whiteN());
      for (int i = 0; i < BLOCKS; i++) {
        for (int j = 0; j < BLOCKS; j++) {
          v[i][j] += sd * sd * believed.columns()[i][2] * believed.columns()[j][2];
        }
      }
      GeneralizedFit g = GeneralizedFit.of(two, y, v);
      double grown = Math.max(1, g.weightedRss() / g.degreesOfFreedom());
      for (int k = 0; k < 2; k++) {
        assertThat(c.coefficients()[k]).isEqualTo(g.coefficients()[k], Offset.offset(1e-9));
        assertThat(c.covariance()[k][k])
            .isCloseTo(grown * g.covariance()[k][k], Percentage.withPercentage(1e-4));
      }
      if (g.restrictedLogLikelihood() > mostGeneralized) {
        mostGeneralized = g.restrictedLogLikelihood();
        ratioGeneralized = c.ratio();
      }
      if (c.weight() > heaviest) {
        heaviest = c.weight();
        ratioHeaviest = c.ratio();
      }
    }
    assertThat(ratioHeaviest).isEqualTo(ratioGeneralized);
  }

  @Test
  void itsIntervalsCoverWhateverTheNoisesColour() {
    for (double flicker : new double[] {0.0004, 0.0015, 0.006}) {
      int covered = 0;
      for (int run = 0; run < 200; run++) {
        double[] y = noise(WHITE, flicker, run);
        ColouredRegression fit =
            ColouredGrid.fit(
                    design(NONE),
                    new double[][] {y},
                    new double[] {Math.sqrt(WHITE * WHITE + 0.44 * flicker * flicker)})
                .get(0);
        double[] g = {0, 1, 0};
        double q = fit.quantile(g);
        double se = Math.sqrt(ColouredRegression.quadratic(g, fit.covariance()));
        covered += Math.abs(fit.coefficients()[1]) <= q * se ? 1 : 0;
      }
      System.out.printf("flicker %s: slope covered %d of 200%n", flicker, covered);
      // 95 % holds in fewer than 180 of 200 less than three times in a thousand.
      assertThat(covered).as("flicker %s", flicker).isBetween(181, 199);
    }
  }

  @Test
  void aStrayBlockIsFoundAndAGoodRecordKeepsAllOfItsOwn() {
    int lost = 0;
    for (int run = 0; run < 100; run++) {
      double[][] y = {noise(WHITE, 0.001, run), noise(WHITE, 0.001, 500 + run)};
      lost += dropped(y).length;
      y[1][20] += 0.05;
      assertThat(dropped(y)).as("run %s", run).contains(20);
    }
    System.out.printf("good blocks dropped: %d of %d%n", lost, 100 * BLOCKS);
    assertThat(lost).isLessThanOrEqualTo(5);
  }

  private static int[] dropped(double[][] y) {
    RegressionDesign design = design(NONE);
    List<ColouredRegression> fits = ColouredGrid.fit(design, y, new double[] {WHITE, WHITE});
    boolean[] kept = BlockOutliers.kept(design, y, fits);
    return java.util.stream.IntStream.range(0, kept.length).filter(i -> !kept[i]).toArray();
  }

  @Test
  void arraysThatDoNotFitAreRefused() {
    assertThatThrownBy(
            () ->
                new RegressionDesign(
                    new double[2][1], new double[] {NONE}, new double[2], new double[3]))
        .hasMessage("2 rows for 2 middles and 3 widths");
    assertThatThrownBy(
            () ->
                new RegressionDesign(
                    new double[2][1], new double[] {NONE, 1}, new double[2], new double[2]))
        .hasMessage("a row of 1 entries for 2 unknowns");
  }

  @Test
  void columnsThatAreNearlyOneHaveALargeCondition() {
    double[][] apart = {{1, 0}, {0, 5}, {0, 0}};
    double[][] same = {{1, 1.001}, {2, 2}, {3, 3}};
    assertThat(Condition.of(apart)).isEqualTo(1, Offset.offset(1e-12));
    assertThat(Condition.of(same)).isGreaterThan(1000);
    assertThat(Condition.of(new double[][] {{1, 0}, {2, 0}})).isInfinite();
  }
}
