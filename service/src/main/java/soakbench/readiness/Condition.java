package soakbench.readiness;

/**
 * One thing that must hold before a tracker is ready.
 *
 * @param name heard, still, operating_band, near_use, temperature_settled, shift, dwell, not_hot
 * @param met true, false, or null where it can't be said
 * @param value what was found, in {@code unit}; null where nothing is known
 * @param low lower end of the value's 90 % interval, or null where it has none
 * @param high upper end of the value's 90 % interval, or null where it has none
 * @param limitLow what the interval must stay above, or null
 * @param limitHigh what the interval must stay below, or null
 * @param unit unit of all five numbers
 * @param reason why it is not met or not known; null where it is met
 */
public record Condition(
    String name,
    Boolean met,
    Double value,
    Double low,
    Double high,
    Double limitLow,
    Double limitHigh,
    String unit,
    String reason) {}
