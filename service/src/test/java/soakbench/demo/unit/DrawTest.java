package soakbench.demo.unit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.SplittableRandom;
import java.util.stream.DoubleStream;
import org.junit.jupiter.api.Test;

class DrawTest {
  private static final int MANY = 20_000;

  private final Draw draw = new Draw(new SplittableRandom(7));

  /** A flat distribution has the mean (a + b) / 2 and the variance (b - a)^2 / 12. */
  @Test
  void whatLiesBetweenIsSpreadEvenly() {
    double[] drawn = DoubleStream.generate(() -> draw.uniform(-3, 9)).limit(MANY).toArray();
    double mean = Arrays.stream(drawn).average().orElseThrow();
    double variance = Arrays.stream(drawn).map(x -> (x - mean) * (x - mean)).sum() / MANY;
    assertThat(Arrays.stream(drawn).allMatch(x -> x >= -3 && x < 9)).isTrue();
    assertThat(mean).isCloseTo(3, within(0.1));
    assertThat(variance).isCloseTo(12, within(0.4));
  }

  @Test
  void overTheLogarithmAsManyLieBelowTheGeometricMeanAsAbove() {
    long below =
        DoubleStream.generate(() -> draw.logUniform(1, 100))
            .limit(MANY)
            .filter(x -> x < 10)
            .count();
    assertThat(below / (double) MANY).isCloseTo(0.5, within(0.02));
  }

  /** Each part of a random unit vector has the mean 0 and the mean square 1/3. */
  @Test
  void aDirectionIsOfUnitLengthAndPrefersNone() {
    double[] sum = new double[3];
    double[] squares = new double[3];
    for (int i = 0; i < MANY; i++) {
      double[] d = draw.direction();
      assertThat(d[0] * d[0] + d[1] * d[1] + d[2] * d[2]).isCloseTo(1, within(1e-12));
      for (int k = 0; k < 3; k++) {
        sum[k] += d[k] / MANY;
        squares[k] += d[k] * d[k] / MANY;
      }
    }
    assertThat(sum).containsExactly(new double[3], within(0.02));
    assertThat(squares).containsExactly(new double[] {1 / 3., 1 / 3., 1 / 3.}, within(0.02));
  }

  @Test
  void chancesAndChoicesComeAsOftenAsTheyShould() {
    int hits = 0;
    int twos = 0;
    for (int i = 0; i < MANY; i++) {
      hits += draw.chance(0.2) ? 1 : 0;
      twos += draw.oneOf(1, 2, 3, 4) == 2 ? 1 : 0;
      assertThat(draw.wholeSecond(10, 20) % 1).isZero();
    }
    assertThat(hits / (double) MANY).isCloseTo(0.2, within(0.015));
    assertThat(twos / (double) MANY).isCloseTo(0.25, within(0.015));
  }

  @Test
  void oneSeedDrawsTheSameAgain() {
    Draw again = new Draw(new SplittableRandom(7));
    for (int i = 0; i < 100; i++) {
      assertThat(again.normal(2)).isEqualTo(draw.normal(2));
    }
  }
}
