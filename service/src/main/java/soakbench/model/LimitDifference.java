package soakbench.model;

import java.util.Arrays;
import java.util.List;
import java.util.Objects;

/**
 * One limit that differs between two sets.
 *
 * @param field its name, {@code band_low_c}
 * @param unit its unit; empty where it has none
 * @param was what it was; null where it was left open
 * @param is what it is, or would be; null where it is left open
 */
public record LimitDifference(String field, String unit, Double was, Double is) {

  /** All that differ, in order. */
  public static List<LimitDifference> between(Limits before, Limits after) {
    return Arrays.stream(LimitKey.values())
        .filter(key -> !Objects.equals(key.of(before), key.of(after)))
        .map(key -> new LimitDifference(key.key(), key.unit(), key.of(before), key.of(after)))
        .toList();
  }

  @Override
  public String toString() {
    return field + " " + text(was) + " to " + text(is);
  }

  private static String text(Double value) {
    return value == null ? "open" : String.valueOf(value);
  }
}
