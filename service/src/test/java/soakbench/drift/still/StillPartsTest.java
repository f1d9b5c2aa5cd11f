package soakbench.drift.still;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import soakbench.model.Bin;
import soakbench.model.Bin.Channel;

/** Means and windows of seconds, by hand. */
class StillPartsTest {
  private static final Channel[] NO_ACCEL = {Channel.EMPTY, Channel.EMPTY, Channel.EMPTY};

  private static Bin bin(long second, Channel x, Channel celsius) {
    Channel[] gyro = {x, x, x};
    long us = second * 1_000_000;
    return new Bin("T-1", second, us, us, 0, celsius, gyro, NO_ACCEL, Double.NaN, Double.NaN);
  }

  private static Bin rate(long second, double dps) {
    return bin(second, new Channel(10, dps, 0.1), new Channel(10, 20 + dps, 0));
  }

  @Test
  void theNewestSecondIsNotInTheStillMean() {
    StillMean mean = new StillMean();
    mean.add(rate(0, 1));
    assertThat(mean.seconds()).isZero();
    assertThat(mean.biasDps()).containsOnly(Double.NaN);
    assertThat(mean.temperatureC()).isNaN();
    mean.add(rate(1, 3));
    mean.add(rate(2, 100));
    assertThat(mean.seconds()).isEqualTo(2);
    assertThat(mean.biasDps()).containsExactly(2, 2, 2);
    assertThat(mean.temperatureC()).isEqualTo(22);
  }

  @Test
  void aMinuteIsTheLongestStillMean() {
    StillMean mean = new StillMean();
    for (int s = 0; s < 100; s++) {
      mean.add(rate(s, s));
    }
    assertThat(mean.seconds()).isEqualTo(60);
    assertThat(mean.biasDps()[0]).as("of seconds 39 to 98").isCloseTo(68.5, within(1e-12));
    mean.clear();
    assertThat(mean.seconds()).isZero();
  }

  @Test
  void secondsWithoutATemperatureLeaveItsMeanAlone() {
    StillMean mean = new StillMean();
    mean.add(rate(0, 1));
    mean.add(bin(1, new Channel(10, 5, 0.1), Channel.EMPTY));
    mean.add(rate(2, 1));
    assertThat(mean.temperatureC()).isEqualTo(21);
    assertThat(mean.biasDps()[0]).isEqualTo(3);
  }

  /** (1, 2, 3) and (4, 6): the mean of all five is 3.2, their sum of squares about it 14.8. */
  @Test
  void pooledReadingsVaryAboutTheirCommonMean() {
    PooledWindow window = new PooledWindow();
    window.add(bin(0, new Channel(3, 2, 1), Channel.EMPTY));
    window.add(bin(1, new Channel(2, 5, Math.sqrt(2)), Channel.EMPTY));
    assertThat(window.count()).isEqualTo(5);
    assertThat(window.variance()).containsExactly(new double[] {3.7, 3.7, 3.7}, within(1e-12));
  }

  /** A bin of one reading shows no step within; two of them do. */
  @Test
  void theStepOfLoneReadingsIsBetweenThem() {
    PooledWindow window = new PooledWindow();
    window.add(bin(0, new Channel(1, 0.5, Double.NaN), Channel.EMPTY));
    assertThat(window.stepDps()).isNaN();
    window.add(bin(2, new Channel(1, 0.53, Double.NaN), Channel.EMPTY));
    assertThat(window.stepDps()).isCloseTo(0.03, within(1e-12));
    window.add(bin(4, new Channel(1, 0.53, Double.NaN), Channel.EMPTY));
    assertThat(window.stepDps()).isNaN();
  }

  @Test
  void singleReadingsArePooledToo() {
    PooledWindow window = new PooledWindow();
    for (int s = 0; s < 5; s++) {
      window.add(bin(s, new Channel(1, s, Double.NaN), Channel.EMPTY));
    }
    assertThat(window.variance()[0]).as("0 to 4").isCloseTo(2.5, within(1e-12));
  }

  /** As many seconds as give five readings, never more than ten seconds. */
  @ParameterizedTest
  @CsvSource({"1, 1, 5", "2, 1, 6", "10, 1, 10", "1, 2, 5", "1, 3, 4", "1, 12, 1"})
  void theWindowIsAsLongAsFiveReadingsTake(int readings, int everyS, int count) {
    PooledWindow window = new PooledWindow();
    for (int s = 0; s < 60; s += everyS) {
      window.add(bin(s, new Channel(readings, 0, 0.1), Channel.EMPTY));
    }
    assertThat(window.count()).isEqualTo(count);
  }
}
