package soakbench.model;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.EnumMap;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

class LimitKeyTest {
  static Limits with(LimitKey key, Double value) {
    Map<LimitKey, Double> all = new EnumMap<>(LimitKey.values(Limits.DEFAULT));
    all.put(key, value);
    return LimitKey.limits(all);
  }

  static Limits with(LimitKey key, double value) {
    return with(key, Double.valueOf(value));
  }

  @ParameterizedTest
  @CsvSource({
    "heard_within_s, s, 1, 600, 10",
    "gap_limit_s, s, 1, 600, 5",
    "still_for_s, s, 1, 3600, 60",
    "band_low_c, degC, -40, 85, 28",
    "band_high_c, degC, -40, 85, 34",
    "band_margin_c, degC, 0, 5, 0.15",
    "use_temperature_c, degC, -40, 85, 31",
    "near_use_limit_deg_per_min, deg/min, 0.001, 1000, ",
    "temperature_rate_limit_c_per_min, degC/min, 0.001, 10, 0.1",
    "shift_limit_dps, deg/s, 0.0001, 10, 0.01",
    "calibration_s, s, 1, 3600, 180",
    "dwell_s, s, 0, 3600, 60",
    "hot_c, degC, -40, 60, 45",
    "rise_limit_c_per_min, degC/min, 0.1, 60, 5",
    "alpha, '', 0.0001, 0.4999, 0.05"
  })
  void namesUnitsRangesAndDefaultsAreThoseOfTheMethodsPage(
      String name, String unit, double least, double most, Double byDefault) {
    LimitKey key = LimitKey.named(name).orElseThrow();
    assertThat(key.unit()).isEqualTo(unit);
    assertThat(key.least()).isEqualTo(least);
    assertThat(key.most()).isEqualTo(most);
    assertThat(key.of(Limits.DEFAULT)).isEqualTo(byDefault);
    assertThat(key.nullable()).isEqualTo(byDefault == null);
  }

  @Test
  void noneOfThemIsWithoutAName() {
    assertThat(LimitKey.keys()).hasSize(15).doesNotHaveDuplicates().startsWith("heard_within_s");
    assertThat(LimitKey.named("HOT_C")).isEmpty();
    assertThat(LimitKey.named("")).isEmpty();
  }

  @ParameterizedTest
  @EnumSource(LimitKey.class)
  void eachKeyReadsAndSetsItsOwnLimitAndNoOther(LimitKey key) {
    Limits changed = with(key, 0.3125);
    for (LimitKey other : LimitKey.values()) {
      Double expected = other == key ? Double.valueOf(0.3125) : other.of(Limits.DEFAULT);
      assertThat(other.of(changed)).as(other.key()).isEqualTo(expected);
    }
    assertThat(LimitDifference.between(Limits.DEFAULT, changed))
        .singleElement()
        .satisfies(d -> assertThat(d.field()).isEqualTo(key.key()));
  }

  @Test
  void aDifferenceIsToldInWords() {
    Limits strict = with(LimitKey.NEAR_USE_LIMIT_DEG_PER_MIN, 0.5);
    assertThat(LimitDifference.between(Limits.DEFAULT, strict))
        .hasToString("[near_use_limit_deg_per_min open to 0.5]");
    assertThat(LimitDifference.between(strict, Limits.DEFAULT))
        .containsExactly(new LimitDifference("near_use_limit_deg_per_min", "deg/min", 0.5, null));
    assertThat(LimitDifference.between(strict, strict)).isEmpty();
  }
}
