package soakbench.readiness;

import java.io.Serializable;
import soakbench.readiness.estimator.TostInterval;

/**
 * One thing that must hold before a tracker is ready.
 *
 * @param name heard, still, operating_band, near_use, temperature_settled, shift, dwell, not_hot
 * @param met true, false, or null where it can't be said
 * @param found what was found, in {@code unit}
 * @param wanted what that must be, in {@code unit}
 * @param unit unit of all the numbers
 * @param reason why it is not met or not known; null where it is met
 */
public record Condition(
    String name, Boolean met, Found found, Wanted wanted, String unit, String reason)
    implements Serializable {

  /**
   * What was found.
   *
   * @param value null where nothing is known
   * @param low lower end of the value's 90 % interval, or null where it has none
   * @param high upper end of the value's 90 % interval, or null where it has none
   */
  public record Found(Double value, Double low, Double high) implements Serializable {
    static final Found NOTHING = new Found(null, null, null);

    /** A value without an interval; null where nothing is known. */
    public static Found of(Double value) {
      return new Found(value, null, null);
    }

    static Found of(TostInterval interval) {
      return new Found(interval.value(), interval.low(), interval.high());
    }
  }

  /**
   * Limits.
   *
   * @param limitLow what the value, or its interval, must stay above, or null
   * @param limitHigh what it must stay below, or null
   */
  public record Wanted(Double limitLow, Double limitHigh) implements Serializable {
    /** No less than the limit. */
    public static Wanted above(double limit) {
      return new Wanted(limit, null);
    }

    /** No more than the limit. */
    public static Wanted below(double limit) {
      return new Wanted(null, limit);
    }

    static Wanted within(double limit) {
      return new Wanted(-limit, limit);
    }
  }
}
