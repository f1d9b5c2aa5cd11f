package soakbench.thermal;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.SplittableRandom;
import java.util.function.DoubleUnaryOperator;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

/** A second constant must not be found in noise, and must be found where a chip has one. */
class HeldOutForecastsTest {
  private static final int SOAKS = 20;

  private static WarmUpRows rows(int seconds, int seed, DoubleUnaryOperator celsius) {
    SplittableRandom random = new SplittableRandom(seed);
    double[] timeS = IntStream.range(0, seconds).mapToDouble(s -> s + 0.5).toArray();
    double[] read =
        IntStream.range(0, seconds)
            .mapToDouble(s -> celsius.applyAsDouble(timeS[s]) + 0.02 * random.nextGaussian())
            .toArray();
    double[] weight = IntStream.range(0, seconds).mapToDouble(s -> 1).toArray();
    return WarmUpRows.of(new Temperatures(timeS, read, weight), 0, Double.POSITIVE_INFINITY);
  }

  private static long found(int seconds, DoubleUnaryOperator celsius) {
    return IntStream.range(0, SOAKS)
        .filter(seed -> HeldOutForecasts.twoAreBetter(rows(seconds, seed, celsius)))
        .count();
  }

  /** Its level is one in twenty; four of twenty come by chance once in sixty. */
  @Test
  void oneConstantIsRarelyTakenForTwo() {
    assertThat(found(2400, t -> 30 - 10 * Math.exp(-t / 700))).isLessThan(4);
  }

  @Test
  void aChipAboveItsBodyHasTwo() {
    assertThat(found(2400, t -> 32 - 10 * Math.exp(-t / 700) - 2 * Math.exp(-t / 30)))
        .isGreaterThan(SOAKS * 9 / 10);
  }

  @Test
  void aRecordOfLessThanFourMinutesDecidesNothing() {
    assertThat(found(230, t -> 32 - 10 * Math.exp(-t / 700) - 2 * Math.exp(-t / 30))).isZero();
  }
}
