package soakbench.model;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import soakbench.model.Bin.Channel;

/** What a sample, a bin and an estimate say of themselves. */
class ReadingRecordsTest {
  private static final float NONE = Float.NaN;

  private static Sample sample(long timeUs, float celsius, boolean held, float rate, float g) {
    return new Sample("T", timeUs, celsius, held, rate, rate, rate, g, g, g, -1, -1);
  }

  @Test
  void aSampleSaysWhichOfItsPartsAreThere() {
    Sample full = sample(0, 25, false, 0.1f, 1);
    assertThat(full.hasTemperature() && full.hasRates() && full.hasAcceleration()).isTrue();
    assertThat(full.measuredTemperature()).isTrue();
    Sample held = sample(0, 25, true, NONE, NONE);
    assertThat(held.hasTemperature()).isTrue();
    assertThat(held.measuredTemperature()).isFalse();
    assertThat(held.hasRates() || held.hasAcceleration()).isFalse();
    assertThat(sample(0, NONE, false, 0, 0).hasTemperature()).isFalse();
    assertThat(held.withTemperatureC(26)).isEqualTo(sample(0, 26, true, NONE, NONE));
  }

  @Test
  void aSampleBelongsToTheSecondThatItLiesIn() {
    assertThat(sample(999_999, 25, false, 0, 0).second()).isZero();
    assertThat(sample(1_000_000, 25, false, 0, 0).second()).isEqualTo(1);
    assertThat(sample(-1, 25, false, 0, 0).second()).isEqualTo(-1);
  }

  @Test
  void aBinsMeansAreItsBias() {
    Channel[] rates = {new Channel(9, 0.3, 0.1), new Channel(9, -0.1, 0.1), Channel.EMPTY};
    Bin bin = new Bin("T", 7, 7_000_100, 7_900_000, 0, Channel.EMPTY, rates, rates, 0.1, 0.001);
    assertThat(bin.biasDps()).startsWith(0.3, -0.1).hasSize(3);
    assertThat(bin.biasDps()[2]).isNaN();
    assertThat(bin.rateCount()).isEqualTo(9);
    assertThat(bin.endUs()).isEqualTo(8_000_000);
    assertThat(bin.withBoot(2).boot()).isEqualTo(2);
    assertThat(bin.withBoot(2).gyroDps()).isSameAs(bin.gyroDps());
  }

  @Test
  void anEstimateHasLimitsOrAReason() {
    Estimate e = Estimate.of(2, 0.5, 1.96);
    assertThat(e.low()).isCloseTo(1.02, within(1e-12));
    assertThat(e.high()).isCloseTo(2.98, within(1e-12));
    assertThat(e.known()).isTrue();
    assertThat(Estimate.of(2, 0.5, 1, 9).high()).isEqualTo(9);
    Estimate none = Estimate.unknown("too little");
    assertThat(none.known()).isFalse();
    assertThat(none.reason()).isEqualTo("too little");
  }
}
