package soakbench.demo;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.ObjectMapper;
import java.util.SplittableRandom;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import soakbench.demo.lines.LineStream;
import soakbench.demo.simulation.Recipe;
import soakbench.demo.unit.Axis;
import soakbench.demo.unit.Events;
import soakbench.demo.unit.Heating;
import soakbench.demo.unit.LowFrequencyNoise;

/** Allan deviations by their definition: half the mean squared step between neighbouring means. */
class NoiseTest {

  @Test
  void whiteNoiseHasItsFigureAtOneSecondWhateverTheRate() throws Exception {
    for (double rateHz : new double[] {5, 20, 50}) {
      Axis axis = Recipes.axis(new double[] {0.3, 0, 0, 0}, 0.01, 0, 0);
      Recipe recipe =
          Recipes.run(
              Recipes.unit(axis),
              Heating.steady(31, 31, 0, 20, 700),
              Events.NONE,
              LineStream.clean(rateHz),
              6000);
      double[] rates = gyroX(recipe);
      assertThat(allan(rates, (int) rateHz)).isCloseTo(0.01, within(0.0006));
    }
  }

  @Test
  void flickerHasItsFloorOverTheDecadesThatMatter() {
    for (int tau : new int[] {10, 30, 100, 300}) {
      double sum = 0;
      for (int seed = 0; seed < 8; seed++) {
        double[] rates = slow(Recipes.axis(new double[4], 0, 36, 0), seed, 40_000);
        sum += Math.pow(allan(rates, tau), 2);
      }
      double floorDps = 0.664 * 36 / 3600;
      assertThat(Math.sqrt(sum / 8)).as("at %d s", tau).isBetween(0.75 * floorDps, 1.25 * floorDps);
    }
  }

  @Test
  void aRandomWalkGrowsWithTheRootOfAThirdOfTheTime() {
    double sum = 0;
    for (int seed = 0; seed < 8; seed++) {
      double[] rates = slow(Recipes.axis(new double[4], 0, 0, 1e-3), seed, 40_000);
      sum += Math.pow(allan(rates, 100), 2);
    }
    double expected = 1e-3 * Math.sqrt(100 / 3.0);
    assertThat(Math.sqrt(sum / 8)).isBetween(0.85 * expected, 1.15 * expected);
  }

  private static double[] slow(Axis axis, long seed, int seconds) {
    LowFrequencyNoise noise = new LowFrequencyNoise(axis, new SplittableRandom(seed));
    double[] out = new double[seconds];
    for (int s = 0; s < seconds; s++) {
      noise.step();
      out[s] = noise.dps();
    }
    return out;
  }

  private static double[] gyroX(Recipe recipe) throws Exception {
    ObjectMapper mapper = new ObjectMapper();
    double[] out = new double[Recipes.lines(recipe).size()];
    int i = 0;
    for (String line : Recipes.lines(recipe)) {
      out[i++] = mapper.readTree(line).get("gyro_dps").get(0).asDouble();
    }
    return out;
  }

  private static double allan(double[] rates, int length) {
    double[] means =
        IntStream.range(0, rates.length / length)
            .mapToDouble(
                k -> {
                  double sum = 0;
                  for (int i = 0; i < length; i++) {
                    sum += rates[k * length + i];
                  }
                  return sum / length;
                })
            .toArray();
    double squares = 0;
    for (int k = 1; k < means.length; k++) {
      squares += Math.pow(means[k] - means[k - 1], 2);
    }
    return Math.sqrt(squares / 2 / (means.length - 1));
  }
}
