package soakbench.store.derived;

import java.sql.Array;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import soakbench.live.StoreException;
import soakbench.store.connection.Pools;
import soakbench.store.connection.Query;
import soakbench.store.rows.LeftOut;
import soakbench.store.rows.SqlTimes;

/**
 * On which day each tracker was measured. Thread-safe; throws {@link StoreException} when the
 * database does not answer.
 */
public final class UnitDays {
  private static final String STARTS =
      "SELECT s.tracker, s.start_time FROM soak s JOIN derived k ON k.kind = 'figures'"
          + " AND k.soak = s.id WHERE "
          + LeftOut.reason("s")
          + " IS NULL AND (?::text[] IS NULL"
          + " OR s.tracker IN (SELECT id FROM tracker WHERE lot = ANY(?)))";

  private final Pools pools;

  public UnitDays(Pools pools) {
    this.pools = pools;
  }

  /**
   * The day on which most of a tracker's soaks began that count, of several such days the newest;
   * by tracker, as 2026-03-01.
   *
   * @param lots only trackers of these lots; null for all
   * @param zone by whose midnight a day ends
   */
  public Map<String, String> of(List<String> lots, ZoneId zone) {
    Map<String, Map<LocalDate, Integer>> counts = new HashMap<>();
    pools.request(
        "reading when trackers were measured",
        c -> {
          Array of = lots == null ? null : c.createArrayOf("text", lots.toArray());
          Query.each(
              c,
              rows -> Map.entry(rows.getString(1), SqlTimes.us(rows, 2)),
              row ->
                  counts
                      .computeIfAbsent(row.getKey(), t -> new HashMap<>())
                      .merge(day(row.getValue(), zone), 1, Integer::sum),
              STARTS,
              of,
              of);
          return null;
        });
    Map<String, String> days = new HashMap<>();
    counts.forEach((tracker, of) -> days.put(tracker, most(of).toString()));
    return days;
  }

  private static LocalDate day(long timeUs, ZoneId zone) {
    return Instant.ofEpochSecond(Math.floorDiv(timeUs, 1_000_000L)).atZone(zone).toLocalDate();
  }

  private static LocalDate most(Map<LocalDate, Integer> counts) {
    return counts.entrySet().stream()
        .max(
            Map.Entry.<LocalDate, Integer>comparingByValue()
                .thenComparing(Map.Entry.comparingByKey()))
        .orElseThrow()
        .getKey();
  }
}
