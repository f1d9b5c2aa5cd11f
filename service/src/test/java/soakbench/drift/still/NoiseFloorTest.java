package soakbench.drift.still;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

class NoiseFloorTest {
  private static final int WINDOWS = 120;
  private static final int READINGS = 20;

  /** Rounded, so that many windows are alike. */
  @Test
  void itIsTheLowQuantileOfTheNewestWindowsHoweverMuchTheyVary() {
    NoiseFloor floor = new NoiseFloor();
    SplittableRandom random = new SplittableRandom(8);
    List<Double> seen = new ArrayList<>();
    double perQuantile = Double.NaN;
    for (int second = 1; second <= 1000; second++) {
      double variance = Math.rint(10 + 10 * random.nextDouble()) + (second > 600 ? 50 : 0);
      seen.add(variance);
      floor.accept(new double[] {variance, variance, variance}, READINGS, Double.NaN);
      if (second % 10 == 0) {
        double[] sorted =
            seen.subList(Math.max(0, second - WINDOWS), second).stream()
                .mapToDouble(Double::doubleValue)
                .sorted()
                .toArray();
        double low = sorted[(int) (0.2 * (sorted.length - 1))];
        double ratio = low / (floor.sd()[1] * floor.sd()[1]);
        perQuantile = second == 10 ? ratio : perQuantile;
        assertThat(ratio).isCloseTo(perQuantile, org.assertj.core.data.Offset.offset(1e-12));
      }
    }
    assertThat(perQuantile).as("20 % point of chi-square by its mean").isBetween(0.7, 0.75);
  }

  private static double[] all(double variance) {
    return new double[] {variance, variance, variance};
  }

  /** The mean of sums of squares of normal readings over n - 1, however many there are. */
  private static double variance(int readings, SplittableRandom random) {
    double sum = 0;
    double squares = 0;
    for (int i = 0; i < readings; i++) {
      double v = random.nextGaussian();
      sum += v;
      squares += v * v;
    }
    return (squares - sum * sum / readings) / (readings - 1);
  }

  @Test
  void windowsOfFewerReadingsDoNotShiftIt() {
    SplittableRandom random = new SplittableRandom(9);
    NoiseFloor floor = new NoiseFloor();
    double sum = 0;
    for (int s = 0; s < 20_000; s++) {
      int readings = s % 10 == 9 ? 9 : 5;
      floor.accept(all(variance(readings, random)), readings, Double.NaN);
      sum += floor.sd()[0];
    }
    assertThat(sum / 20_000).isBetween(0.95, 1.05);
  }

  /** One in a million of F with 27 and many degrees of freedom is 2.7; 1.3 times that. */
  @Test
  void aWindowExceedsAFloorByWhatChanceDoesNotMake() {
    NoiseFloor floor = new NoiseFloor();
    SplittableRandom random = new SplittableRandom(10);
    assertThat(floor.exceededBy(all(1e9), 10, 1)).as("no floor yet").isFalse();
    for (int s = 0; s < 3; s++) {
      floor.accept(all(variance(10, random)), 10, Double.NaN);
    }
    assertThat(floor.exceededBy(all(8), 10, 1)).as("three windows know little").isFalse();
    assertThat(floor.exceededBy(all(1e4), 10, 1)).as("motion is clear all the same").isTrue();
    for (int s = 0; s < 1000; s++) {
      floor.accept(all(variance(10, random)), 10, Double.NaN);
    }
    assertThat(floor.exceededBy(all(2.7), 10, 1)).isFalse();
    assertThat(floor.exceededBy(all(5.5), 10, 1)).isTrue();
  }
}
