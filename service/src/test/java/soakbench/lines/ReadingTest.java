package soakbench.lines;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;

class ReadingTest {
  private static final float LACKING = Float.NaN;

  private static Reading line(float temperatureC, float rateDps) {
    return new Reading(
        "T-1",
        new Reading.Stamps(Reading.NO_TIME, Reading.NO_TIME, 1, 5, null),
        new Reading.Channels(temperatureC, rateDps, rateDps, rateDps, LACKING, LACKING, LACKING));
  }

  @Test
  void temperatureAloneAndRatesAloneAreHalvesInEitherOrder() {
    Reading temperature = line(24, LACKING);
    Reading rates = line(LACKING, 1);
    Reading whole = line(24, 1);
    assertThat(temperature.isOtherHalfOf(rates)).isTrue();
    assertThat(rates.isOtherHalfOf(temperature)).isTrue();
    assertThat(rates.isOtherHalfOf(rates)).isFalse();
    assertThat(whole.isOtherHalfOf(whole)).isFalse();
    assertThat(rates.isOtherHalfOf(whole)).isFalse();
    assertThat(rates.isOtherHalfOf(null)).isFalse();
  }
}
