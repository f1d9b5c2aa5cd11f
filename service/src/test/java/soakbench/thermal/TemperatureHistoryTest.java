package soakbench.thermal;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;

class TemperatureHistoryTest {
  private final TemperatureHistory history = new TemperatureHistory();

  private void seconds(int count) {
    for (int s = 0; s < count; s++) {
      history.second(s + 0.5, s);
      if (s % 10 == 9) {
        history.blocks.add(s - 4, s - 4.5);
      }
    }
  }

  @Test
  void tenMinutesAreKeptBySecondAndTheRestByBlock() {
    seconds(620);
    Temperatures all = history.all();
    assertThat(all.timeS()).hasSize(602);
    assertThat(all.timeS()[599]).isEqualTo(599.5);
    assertThat(all.timeS()[600]).isEqualTo(605);
    assertThat(all.temperatureC()[601]).isEqualTo(614.5);
    assertThat(all.seconds()[599]).isEqualTo(1);
    assertThat(all.seconds()[600]).isEqualTo(10);
    assertThat(all.spanS()).isEqualTo(615);
    assertThat(all.changed()).isTrue();
  }

  @Test
  void theBlocksOfAStretchAreThoseFromItsBeginOn() {
    seconds(620);
    assertThat(history.blockTimesS(500)).startsWith(505).endsWith(615).hasSize(12);
    assertThat(history.blockTimesS(505)).startsWith(505);
    assertThat(history.blockTimesS(700)).isEmpty();
  }

  @Test
  void aTemperatureThatStoodStillDidNotChange() {
    BlockSeries series = new BlockSeries();
    for (int s = 0; s < 200; s++) {
      series.add(s, 25);
    }
    assertThat(series.size()).isEqualTo(200);
    assertThat(Temperatures.bySecond(series).changed()).isFalse();
    series.add(200, 25.0001);
    Temperatures all = Temperatures.bySecond(series);
    assertThat(all.changed()).isTrue();
    assertThat(all.seconds()).hasSize(201).containsOnly(1);
    assertThat(series.timesFrom(199)).containsExactly(199, 200);
    assertThat(series.temperaturesFrom(200)).containsExactly(25.0001);
    assertThat(series.timeS(64)).isEqualTo(64);
    assertThat(series.temperatureC(64)).isEqualTo(25);
  }
}
