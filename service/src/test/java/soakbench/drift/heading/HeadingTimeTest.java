package soakbench.drift.heading;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import soakbench.drift.Bins;
import soakbench.drift.noise.Noise;
import soakbench.model.Bin;
import soakbench.model.Estimate;

/** Time to five degrees by hand: rate, noise and both together. */
class HeadingTimeTest {
  private static final HeadingTime QUIET = new HeadingTime(0, 0);

  @ParameterizedTest
  @CsvSource({"1, 5", "-1, 5", "2.5, 2", "0.25, 20"})
  void withoutNoiseItIsFiveDegreesOverTheRate(double degPerMin, double minutes) {
    Estimate rate = Estimate.of(degPerMin, 0.01, 1.96);
    assertThat(QUIET.minutes(rate).value()).isCloseTo(minutes, within(1e-12));
  }

  /** A rate of 2 to 4 deg/min takes 2.5 to 1.25 minutes, whatever its sign. */
  @ParameterizedTest
  @CsvSource({"2, 4", "-4, -2"})
  void theLimitsAreThoseOfTheFastestAndTheSlowest(double low, double high) {
    Estimate minutes = QUIET.minutes(Estimate.of((low + high) / 2, 0.5, low, high));
    assertThat(minutes.low()).isCloseTo(1.25, within(1e-12));
    assertThat(minutes.high()).isCloseTo(2.5, within(1e-12));
    assertThat(minutes.se()).isNull();
  }

  @Test
  void aRateThatMayBeNothingHasAFloorAlone() {
    Estimate minutes = QUIET.minutes(Estimate.of(0.1, 0.2, -0.3, 0.5));
    assertThat(minutes.known()).isFalse();
    assertThat(minutes.reason()).isEqualTo("the rate's interval includes zero: at least 10 min");
  }

  /** White noise alone: N^2 t = 25. Flicker alone: B t = 5. */
  @Test
  void noiseAloneGetsThereToo() {
    Estimate slow = Estimate.of(1e-9, 1e-10, 1.96);
    assertThat(new HeadingTime(0.1, 0).minutes(slow).value() * 60)
        .as("25 / 0.01 s")
        .isCloseTo(2500, within(1e-3));
    assertThat(new HeadingTime(0, 0.01).minutes(slow).value() * 60)
        .as("5 / 0.01 s")
        .isCloseTo(500, within(1e-3));
  }

  @Test
  void noiseIsToldInItsUsualUnits() {
    Estimate n = Estimate.of(0.6, 0.01, 1.96);
    Estimate b = Estimate.of(7.2, 0.1, 1.96);
    Estimate none = Estimate.unknown("not resolved");
    HeadingTime time = HeadingTime.of(noise(n, b), 1);
    assertThat(time.whiteDps()).as("0.6 deg/sqrt(h)").isCloseTo(0.01, within(1e-15));
    assertThat(time.flickerDps()).as("7.2 deg/h").isCloseTo(0.002, within(1e-15));
    assertThat(HeadingTime.of(noise(none, none), 1)).isEqualTo(QUIET);
    assertThat(HeadingTime.of(Noise.unknown("never still"), 1)).isEqualTo(QUIET);
  }

  private static Noise noise(Estimate n, Estimate b) {
    List<Noise.Axis> axes = new ArrayList<>();
    Noise.Deviations none = new Noise.Deviations(null, null, null, null);
    for (String axis : List.of("x", "y", "z")) {
      axes.add(new Noise.Axis(axis, none, n, b, Estimate.unknown("none"), null));
    }
    return new Noise(10.0, axes, null);
  }

  @Test
  void aProfileIsTheTemperaturesThatWereRead() {
    Bins bins = new Bins(2);
    List<Bin> all = new ArrayList<>();
    for (int s = 0; s < 5; s++) {
      all.add(bins.at(30 - s).second(10 + s, s == 1 ? 0 : 4, 0));
    }
    UseProfile profile = UseProfile.of("SOAK@1", all);
    assertThat(profile.timeS()).containsExactly(0, 2, 3, 4);
    assertThat(profile.temperatureC()).containsExactly(30, 28, 27, 26);
    assertThat(profile.lowC()).isEqualTo(26);
    assertThat(profile.highC()).isEqualTo(30);
    assertThat(profile.lengthS()).isEqualTo(4);
  }

  @Test
  void aProfileOfOneSecondHasNoLength() {
    UseProfile one = UseProfile.of("SOAK@2", List.of(new Bins(3).second(0, 4, 0)));
    assertThat(one.lengthS()).isZero();
    UseProfile none = UseProfile.of("SOAK@3", List.of());
    assertThat(none.lowC()).isNaN();
    assertThat(none.highC()).isNaN();
  }
}
