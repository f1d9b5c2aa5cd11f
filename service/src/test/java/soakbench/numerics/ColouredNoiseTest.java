package soakbench.numerics;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import org.assertj.core.data.Percentage;
import org.junit.jupiter.api.Test;
import soakbench.numerics.allan.AllanDeviation;

/** The modelled covariance against flicker made by summing sines. */
class ColouredNoiseTest {
  private static final int RECORD_S = 1920;
  private static final int BLOCK_S = 30;
  private static final int BLOCKS = RECORD_S / BLOCK_S;
  private static final double B = 0.002;
  private static final int RUNS = 400;
  private static final Percentage CLOSE = Percentage.withPercentage(15);

  private static double[] blockMeans(double[] seconds) {
    double[] out = new double[BLOCKS];
    for (int i = 0; i < seconds.length; i++) {
      out[i / BLOCK_S] += seconds[i] / BLOCK_S;
    }
    return out;
  }

  private static List<double[]> simulated() {
    List<double[]> runs = new ArrayList<>();
    for (int run = 0; run < RUNS; run++) {
      runs.add(blockMeans(Noises.flicker(RECORD_S, B, 1000 + run)));
    }
    return runs;
  }

  private static double[][] modelled(double white, double flicker) {
    double[] mid = new double[BLOCKS];
    double[] width = new double[BLOCKS];
    for (int i = 0; i < BLOCKS; i++) {
      mid[i] = (i + 0.5) * BLOCK_S;
      width[i] = BLOCK_S;
    }
    return ColouredNoise.covariance(mid, width, white, flicker);
  }

  /** Variance of a contrast (weights that sum to zero, so that the level drops out). */
  private static double variance(double[][] covariance, double[] weights) {
    double sum = 0;
    for (int i = 0; i < weights.length; i++) {
      for (int j = 0; j < weights.length; j++) {
        sum += weights[i] * covariance[i][j] * weights[j];
      }
    }
    return sum;
  }

  private static double variance(List<double[]> runs, double[] weights) {
    double sum = 0;
    for (double[] run : runs) {
      double value = 0;
      for (int i = 0; i < weights.length; i++) {
        value += weights[i] * run[i];
      }
      sum += value * value;
    }
    return sum / runs.size();
  }

  /** Mean of {@code n} blocks minus the mean of the {@code n} after them. */
  private static double[] step(int n) {
    double[] w = new double[BLOCKS];
    for (int i = 0; i < n; i++) {
      w[i] = -1.0 / n;
      w[n + i] = 1.0 / n;
    }
    return w;
  }

  private static double[] slope() {
    double[] w = new double[BLOCKS];
    for (int i = 0; i < BLOCKS; i++) {
      w[i] = 2.0 * i / (BLOCKS - 1) - 1;
    }
    return w;
  }

  private static double[] aboutTheMean() {
    double[] w = new double[BLOCKS];
    java.util.Arrays.fill(w, -1.0 / BLOCKS);
    w[BLOCKS / 2] += 1;
    return w;
  }

  @Test
  void blockMeansVaryAsMuchAsThoseOfSimulatedFlicker() {
    List<double[]> runs = simulated();
    double[][] model = modelled(0, B);
    for (double[] w : List.of(step(1), step(4), step(16), slope(), aboutTheMean())) {
      assertThat(variance(model, w)).isCloseTo(variance(runs, w), CLOSE);
    }
  }

  @Test
  void theAllanFloorIs0664B() {
    double[][] model = modelled(0, B);
    for (int n : new int[] {1, 2, 4, 8, 16}) {
      double adev = Math.sqrt(variance(model, step(n)) / 2);
      assertThat(adev).as("%s s", n * BLOCK_S).isCloseTo(0.664 * B, CLOSE);
    }
  }

  @Test
  void theSimulatedFlickerItselfHasThatFloor() {
    List<double[]> records = new ArrayList<>();
    for (int run = 0; run < 100; run++) {
      records.add(Noises.flicker(RECORD_S, B, 50 + run));
    }
    for (AllanDeviation.Point p : AllanDeviation.overlapping(records, new int[] {16, 64, 256})) {
      assertThat(p.deviation()).isCloseTo(0.664 * B, CLOSE);
    }
  }

  @Test
  void whiteNoiseIsNSquaredOverTheWidth() {
    double[][] model = modelled(0.006, 0);
    assertThat(model[3][3]).isCloseTo(0.006 * 0.006 / 30, Percentage.withPercentage(1e-9));
    assertThat(model[3][4]).isZero();
    assertThat(ColouredNoise.covariance(new double[0], new double[0], 1, 1)).isEmpty();
  }

  @Test
  void blocksOfHoursHaveACovarianceToo() {
    double[] mid = {0.5 * 7200, 1.5 * 7200, 2 * 7200 + 15};
    double[] width = {7200, 7200, 30};
    double[][] v = ColouredNoise.covariance(mid, width, 0, B);
    // Two halves weigh as the whole does.
    double[][] halves =
        ColouredNoise.covariance(
            new double[] {1800, 5400, 9000, 12600, 14415},
            new double[] {3600, 3600, 3600, 3600, 30},
            0,
            B);
    double first = (halves[0][0] + 2 * halves[0][1] + halves[1][1]) / 4;
    double cross = (halves[0][2] + halves[0][3] + halves[1][2] + halves[1][3]) / 4;
    double last = (halves[2][4] + halves[3][4]) / 2;
    Percentage same = Percentage.withPercentage(1e-6);
    assertThat(v[0][0]).isCloseTo(first, same);
    assertThat(v[0][1]).isCloseTo(cross, same);
    assertThat(v[1][2]).isCloseTo(last, same);
  }
}
