package soakbench.readiness.estimator;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import java.util.function.IntToDoubleFunction;
import org.junit.jupiter.api.Test;
import soakbench.model.Bin.Channel;

/** What a block of readings says of the temperature, by the kind of thermometer. */
class ThermometerTest {
  private static final int HZ = 10;

  private final Thermometer thermometer = new Thermometer();
  private final SplittableRandom random = new SplittableRandom(5);

  /** One second whose readings all are the same. */
  private static Channel same(double celsius) {
    return new Channel(HZ, celsius, 0);
  }

  private Channel noisy(double celsius, double sd) {
    double mean = celsius + sd / Math.sqrt(HZ) * random.nextGaussian();
    return new Channel(HZ, mean, sd);
  }

  private Reading block(IntToDoubleFunction celsius) {
    for (int s = 0; s < 10; s++) {
      thermometer.accept(same(celsius.applyAsDouble(s)), Double.NaN);
    }
    return thermometer.close();
  }

  @Test
  void readingsWithNoiseAreAveraged() {
    for (int s = 0; s < 10; s++) {
      thermometer.accept(noisy(30, 0.05), 0.004);
    }
    Reading reading = thermometer.close();
    assertThat(reading.bounds()).isFalse();
    assertThat(reading.middleC()).isCloseTo(30, within(0.02));
    // A hundred readings of 0.05 degC, and what no body is known better than.
    assertThat(reading.sdC()).isCloseTo(Math.hypot(0.005, 0.002), within(0.002));
    assertThat(thermometer.coarse()).isFalse();
  }

  @Test
  void aCoarseOneSaysBetweenWhichStepsItLies() {
    block(s -> 29.5);
    Reading reading = block(s -> 30.0);
    assertThat(thermometer.stepC()).isEqualTo(0.5);
    assertThat(reading.lowC()).isCloseTo(29.75, within(1e-9));
    assertThat(reading.highC()).isCloseTo(30.25, within(1e-9));
    assertThat(thermometer.coarse()).isTrue();
  }

  @Test
  void whereItStepsWithinABlockItLiesAtTheEdge() {
    block(s -> 29.5);
    Reading reading = block(s -> s < 5 ? 29.5 : 30.0);
    assertThat(reading.middleC()).isCloseTo(29.75, within(0.05));
    assertThat(reading.highC() - reading.lowC()).isLessThan(0.15);
  }

  @Test
  void untilItHasMovedItMayBeTheCoarsest() {
    Reading first = block(s -> 30.0);
    assertThat(first.bounds()).isFalse();
    assertThat(first.sdC()).isGreaterThanOrEqualTo(0.1);
  }

  /** Read once in ten seconds with a noise of 0.03 degC, and printed a hundred times. */
  @Test
  void whatIsPrintedAgainIsNoNewReading() {
    double off = 0;
    double square = 0;
    double told = 0;
    int blocks = 400;
    for (int b = 0; b < blocks; b++) {
      double read = 30 + 0.03 * random.nextGaussian();
      Reading reading = block(s -> read);
      if (b >= 50) {
        off += reading.middleC() - 30;
        square += Math.pow(reading.middleC() - 30, 2);
        told += reading.sdC() / (blocks - 50);
      }
    }
    double sd = Math.sqrt(square / (blocks - 50));
    assertThat(off / (blocks - 50)).isCloseTo(0, within(0.01));
    assertThat(told).as("standard deviation told").isBetween(0.7 * sd, 1.5 * sd);
    assertThat(thermometer.coarse()).isFalse();
  }

  /** The same where the reading changes in the middle of a block. */
  @Test
  void norIsItWhereItChangesInMidBlock() {
    double before = 30;
    double told = 0;
    for (int b = 0; b < 200; b++) {
      double first = before;
      double next = 30 + 0.03 * random.nextGaussian();
      before = next;
      told = block(s -> s < 4 ? first : next).sdC();
    }
    assertThat(told).isGreaterThan(0.01);
  }
}
