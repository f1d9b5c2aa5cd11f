package soakbench.numerics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class HighPassedNoiseTest {
  private static final double AS_MEASURED = Double.POSITIVE_INFINITY;

  @Test
  void withNothingTakenOffItIsTheCovarianceOfColouredNoise() {
    double[] mid = new double[40];
    double[] width = new double[40];
    for (int i = 0; i < 40; i++) {
      mid[i] = 15 + 30 * i;
      width[i] = 30;
    }
    double[][] white = ColouredNoise.covariance(mid, width, 0.7, 0);
    double[] row = HighPassedNoise.autocovariance(40, 30, 0.7, 0, AS_MEASURED);
    for (int lag = 0; lag < 40; lag++) {
      assertThat(row[lag]).isCloseTo(white[0][lag], within(1e-12));
    }
    // The slowest processes differ, but they only move the level: differences of blocks agree.
    double[][] flicker = ColouredNoise.covariance(mid, width, 0, 0.7);
    double[] slow = HighPassedNoise.autocovariance(40, 30, 0, 0.7, AS_MEASURED);
    for (int lag = 1; lag < 20; lag++) {
      assertThat(slow[0] - slow[lag])
          .isCloseTo(flicker[0][0] - flicker[0][lag], within(0.03 * (slow[0] - slow[lag])));
    }
  }

  /**
   * Integrating y' + y / c = x' gives the sum of y over a time T as c times the change of the
   * low-pass, whose variance is N^2 / 2c: the mean of white noise falls as 1/T and not as its root.
   */
  @Test
  void theMeanOfFollowedWhiteNoiseFallsWithTime() {
    double c = 20;
    for (double blockS : new double[] {60, 240, 960}) {
      double variance = HighPassedNoise.autocovariance(1, blockS, 1, 0, c)[0];
      double expected = c * (1 - Math.exp(-blockS / c)) / (blockS * blockS);
      assertThat(variance).isCloseTo(expected, within(1e-9 * expected));
    }
  }

  @ParameterizedTest
  @ValueSource(doubles = {15, 60, 240})
  void simulatedNoiseHasTheseCovariances(double lowPassS) {
    double[] expected = HighPassedNoise.autocovariance(4, 30, 1, 0, lowPassS);
    double[] found = new double[4];
    double[] means = followedMeans(lowPassS, 60_000);
    for (int lag = 0; lag < 4; lag++) {
      for (int i = lag; i < means.length; i++) {
        found[lag] += means[i] * means[i - lag] / (means.length - lag);
      }
      assertThat(found[lag]).as("lag %s", lag).isCloseTo(expected[lag], within(0.0006));
    }
  }

  /** Means over 30 s of white noise, ten readings a second, less its own low-pass. */
  private static double[] followedMeans(double lowPassS, int count) {
    SplittableRandom random = new SplittableRandom(17);
    double gain = 1 - Math.exp(-0.1 / lowPassS);
    double taken = 0;
    double[] means = new double[count];
    for (int i = 0; i < count; i++) {
      for (int k = 0; k < 300; k++) {
        double x = Math.sqrt(10) * random.nextGaussian();
        taken += gain * (x - taken);
        means[i] += (x - taken) / 300;
      }
    }
    return means;
  }
}
