package soakbench.model;

import java.util.Arrays;
import java.util.Collections;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;

/** Each of the {@link Limits} under the name that files, calls and tables use. */
public enum LimitKey {
  HEARD_WITHIN_S("s", 1, 600, Limits::heardWithinS),
  GAP_LIMIT_S("s", 1, 600, Limits::gapLimitS),
  STILL_FOR_S("s", 1, 3600, Limits::stillForS),
  BAND_LOW_C("degC", -40, 85, Limits::bandLowC),
  BAND_HIGH_C("degC", -40, 85, Limits::bandHighC),
  BAND_MARGIN_C("degC", 0, 5, Limits::bandMarginC),
  USE_TEMPERATURE_C("degC", -40, 85, Limits::useTemperatureC),
  NEAR_USE_LIMIT_DEG_PER_MIN("deg/min", 0.001, 1000, Limits::nearUseLimitDegPerMin),
  TEMPERATURE_RATE_LIMIT_C_PER_MIN("degC/min", 0.001, 10, Limits::temperatureRateLimitCPerMin),
  SHIFT_LIMIT_DPS("deg/s", 0.0001, 10, Limits::shiftLimitDps),
  CALIBRATION_S("s", 1, 3600, Limits::calibrationS),
  DWELL_S("s", 0, 3600, Limits::dwellS),
  /** No higher than 60 degC, where common lithium cells must stop discharging. */
  HOT_C("degC", -40, 60, Limits::hotC),
  RISE_LIMIT_C_PER_MIN("degC/min", 0.1, 60, Limits::riseLimitCPerMin),
  ALPHA("", 0.0001, 0.4999, Limits::alpha);

  private final String unit;
  private final double least;
  private final double most;
  private final Function<Limits, Double> value;

  LimitKey(String unit, double least, double most, Function<Limits, Double> value) {
    this.unit = unit;
    this.least = least;
    this.most = most;
    this.value = value;
  }

  /** The name, {@code heard_within_s}. */
  public String key() {
    return name().toLowerCase(Locale.ROOT);
  }

  /** Its unit; empty where it has none. */
  public String unit() {
    return unit;
  }

  /** The least value that makes sense. */
  public double least() {
    return least;
  }

  /** The greatest value that makes sense. */
  public double most() {
    return most;
  }

  /** Whether it may be left open (null). */
  public boolean nullable() {
    return this == NEAR_USE_LIMIT_DEG_PER_MIN;
  }

  /** Its value in these limits; null where it is left open. */
  public Double of(Limits limits) {
    return value.apply(limits);
  }

  public static Optional<LimitKey> named(String key) {
    return Arrays.stream(values()).filter(k -> k.key().equals(key)).findFirst();
  }

  /** All names, in order. */
  public static List<String> keys() {
    return Arrays.stream(values()).map(LimitKey::key).toList();
  }

  /** All values of these limits, in order. */
  public static Map<LimitKey, Double> values(Limits limits) {
    Map<LimitKey, Double> all = new EnumMap<>(LimitKey.class);
    for (LimitKey key : values()) {
      all.put(key, key.of(limits));
    }
    return Collections.unmodifiableMap(all);
  }

  /**
   * The limits with these values.
   *
   * @param all a value for every key, null only where that is allowed
   */
  public static Limits limits(Map<LimitKey, Double> all) {
    return new Limits(
        all.get(HEARD_WITHIN_S),
        all.get(GAP_LIMIT_S),
        all.get(STILL_FOR_S),
        all.get(BAND_LOW_C),
        all.get(BAND_HIGH_C),
        all.get(BAND_MARGIN_C),
        all.get(USE_TEMPERATURE_C),
        all.get(NEAR_USE_LIMIT_DEG_PER_MIN),
        all.get(TEMPERATURE_RATE_LIMIT_C_PER_MIN),
        all.get(SHIFT_LIMIT_DPS),
        all.get(CALIBRATION_S),
        all.get(DWELL_S),
        all.get(HOT_C),
        all.get(RISE_LIMIT_C_PER_MIN),
        all.get(ALPHA));
  }
}
