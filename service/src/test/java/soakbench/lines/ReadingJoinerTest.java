package soakbench.lines;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import soakbench.model.Sample;

class ReadingJoinerTest {
  private static final long SECOND = 1_000_000;

  private final List<Sample> samples = new ArrayList<>();
  private final ReadingJoiner joiner = new ReadingJoiner("T-1", 30);

  private static Reading reading(float temperatureC, float rateDps) {
    long none = Reading.NO_TIME;
    float nan = Float.NaN;
    return new Reading(
        "T-1",
        new Reading.Stamps(none, none, -1, -1, null),
        new Reading.Channels(temperatureC, rateDps, rateDps, rateDps, nan, nan, nan));
  }

  private void temperature(long timeUs, float temperatureC) {
    joiner.take(reading(temperatureC, Float.NaN), timeUs, samples::add);
  }

  private void rates(long timeUs) {
    joiner.take(reading(Float.NaN, 1), timeUs, samples::add);
  }

  @Test
  void aWholeLinePassesUnchanged() {
    joiner.take(reading(20, 1), 5, samples::add);
    assertThat(samples).hasSize(1);
    assertThat(samples.get(0).measuredTemperature()).isTrue();
    assertThat(samples.get(0).timeUs()).isEqualTo(5);
  }

  @Test
  void theFirstRatesAfterATemperatureCarryItAsMeasuredLaterOnesAsHeld() {
    temperature(0, 20);
    rates(10);
    rates(20);
    temperature(30, 21);
    rates(30);
    assertThat(samples).extracting(Sample::timeUs).containsExactly(10L, 20L, 30L);
    assertThat(samples).extracting(Sample::temperatureC).containsExactly(20f, 20f, 21f);
    assertThat(samples).extracting(Sample::temperatureHeld).containsExactly(false, true, false);
  }

  @Test
  void aTemperatureIsHeldForThirtySecondsAndNoLonger() {
    temperature(0, 20);
    rates(1);
    rates(30 * SECOND);
    rates(30 * SECOND + 1);
    assertThat(samples).extracting(Sample::hasTemperature).containsExactly(true, true, false);
    assertThat(samples).allMatch(Sample::hasRates);
  }

  @Test
  void aTemperatureThatNoRatesFollowBecomesASampleOfItsOwn() {
    temperature(0, 20);
    temperature(SECOND, 21);
    assertThat(samples).hasSize(1);
    assertThat(samples.get(0).hasRates()).isFalse();
    assertThat(samples.get(0).measuredTemperature()).isTrue();
    rates(60 * SECOND);
    assertThat(samples).extracting(Sample::timeUs).containsExactly(0L, SECOND, 60 * SECOND);
    assertThat(samples.get(2).hasTemperature()).isFalse();
    temperature(61 * SECOND, 22);
    joiner.end(samples::add);
    joiner.end(samples::add);
    assertThat(samples).extracting(Sample::timeUs).endsWith(61 * SECOND).hasSize(4);
  }

  @Test
  void timesRiseEvenWhereATemperatureBearsTheTimeOfTheRatesBeforeIt() {
    rates(10);
    temperature(10, 20);
    temperature(20, 21);
    rates(20);
    assertThat(samples).extracting(Sample::timeUs).containsExactly(10L, 11L, 20L);
  }
}
