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
}
