package soakbench.lots;

import java.time.LocalDate;
import java.util.Map;
import java.util.SortedMap;

/**
 * The days on which the soaks of a tracker that count began, as 2026-03-01.
 *
 * @param most on which most of them began, of several the newest
 */
public record MeasuredDays(String first, String most, String last) {

  /**
   * Of one tracker.
   *
   * @param counts how many soaks began on each day, one at least
   */
  public static MeasuredDays of(SortedMap<LocalDate, Integer> counts) {
    LocalDate most =
        counts.entrySet().stream()
            .max(
                Map.Entry.<LocalDate, Integer>comparingByValue()
                    .thenComparing(Map.Entry.comparingByKey()))
            .orElseThrow()
            .getKey();
    return new MeasuredDays(
        counts.firstKey().toString(), most.toString(), counts.lastKey().toString());
  }
}
