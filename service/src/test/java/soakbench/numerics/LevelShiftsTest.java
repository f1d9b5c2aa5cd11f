package soakbench.numerics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.SplittableRandom;
import org.assertj.core.data.Percentage;
import org.junit.jupiter.api.Test;
import soakbench.numerics.LevelShifts.Series;

/** Against the fit of the same series with a column for the shift and one for the block itself. */
class LevelShiftsTest {
  private static final int BLOCKS = 60;
  private static final double WHITE = 0.01;
  private static final double LEVEL_SD = 1;
  private static final double SLOPE_SD = 0.5;

  private final boolean[] fresh = new boolean[BLOCKS];
  private final boolean[] used = new boolean[BLOCKS];
  private final double[] y = new double[BLOCKS];
  private final Series series;

  LevelShiftsTest() {
    Arrays.fill(used, true);
    double[] mid = new double[BLOCKS];
    double[] width = new double[BLOCKS];
    double[][] columns = new double[BLOCKS][];
    SplittableRandom random = new SplittableRandom(11);
    for (int i = 0; i < BLOCKS; i++) {
      mid[i] = 15 + 30.0 * i;
      width[i] = i % 7 == 3 ? 22 : 30;
      columns[i] = new double[] {Math.exp(-i / 20.0)};
      y[i] = 0.3 * columns[i][0] + WHITE / Math.sqrt(width[i]) * random.nextGaussian();
    }
    series = new Series(mid, width, columns, new double[] {SLOPE_SD}, LEVEL_SD, fresh, used);
  }

  /** Level and slope with their priors, the block, and what shifts after it. */
  private double[] fitted(int block, double flickerB) {
    int n = BLOCKS;
    double[][] v = ColouredNoise.covariance(series.midS(), series.widthS(), WHITE, flickerB);
    double[][] noise = new double[n + 2][n + 2];
    double[][] x = new double[n + 2][4];
    for (int i = 0; i < n; i++) {
      System.arraycopy(v[i], 0, noise[i], 0, n);
      x[i] = new double[] {1, series.columns()[i][0], i == block ? 1 : 0, i > block ? 1 : 0};
    }
    noise[n][n] = LEVEL_SD * LEVEL_SD;
    noise[n + 1][n + 1] = SLOPE_SD * SLOPE_SD;
    x[n] = new double[] {1, 0, 0, 0};
    x[n + 1] = new double[] {0, 1, 0, 0};
    GeneralizedFit fit = GeneralizedFit.of(x, Arrays.copyOf(y, n + 2), noise);
    return new double[] {fit.coefficients()[3], fit.covariance()[3][3]};
  }

  @Test
  void inWhiteNoiseItIsGeneralizedLeastSquares() {
    LevelShifts found = LevelShifts.of(series, y, WHITE, 0);
    for (int block = 2; block < BLOCKS - 2; block++) {
      double[] expected = fitted(block, 0);
      assertThat(found.size(block)).isCloseTo(expected[0], within(1e-7));
      assertThat(1 / found.shiftVariance()[block])
          .isCloseTo(expected[1], Percentage.withPercentage(1e-3));
      double squared = expected[0] * expected[0] / expected[1];
      assertThat(found.shiftSquared(block)).isCloseTo(squared, within(1e-3));
    }
  }

  @Test
  void inFlickerNoiseItIsSoWithinAnEighth() {
    LevelShifts found = LevelShifts.of(series, y, WHITE, 0.003);
    for (int block = 5; block < BLOCKS - 5; block++) {
      double[] expected = fitted(block, 0.003);
      assertThat(1 / found.shiftVariance()[block])
          .isCloseTo(expected[1], Percentage.withPercentage(12.5));
    }
  }

  @Test
  void aShiftIsSeenWhereItIsAndAnErrorOfOneBlockIsNone() {
    for (int i = 0; i < BLOCKS; i++) {
      y[i] += i > 40 ? 0.02 : i == 40 ? 0.012 : 0;
    }
    y[15] += 0.05;
    LevelShifts found = LevelShifts.of(series, y, WHITE, 0.0005);
    assertThat(found.size(40)).isCloseTo(0.02, within(0.003));
    assertThat(found.shiftSquared(40)).isGreaterThan(30);
    assertThat(found.pulseSquared(15)).isGreaterThan(100);
    used[15] = false;
    used[40] = false;
    fresh[41] = true;
    LevelShifts then = LevelShifts.of(series, y, WHITE, 0.0005);
    assertThat(then.logLikelihood()).isGreaterThan(found.logLikelihood() + 60);
    assertThat(then.pulseSquared(15)).isZero();
    for (int block = 1; block < BLOCKS - 1; block++) {
      assertThat(then.shiftSquared(block)).as("block %s", block).isLessThan(16);
    }
  }

  @Test
  void atTheEndsNothingCanBeSaid() {
    LevelShifts found = LevelShifts.of(series, y, WHITE, 0.001);
    assertThat(found.shiftSquared(BLOCKS - 1)).isZero();
    assertThat(found.size(BLOCKS - 1)).isZero();
  }
}
