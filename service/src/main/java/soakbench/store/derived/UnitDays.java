package soakbench.store.derived;

import java.sql.Array;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import soakbench.live.StoreException;
import soakbench.lots.MeasuredDays;
import soakbench.store.connection.Pools;
import soakbench.store.connection.Query;
import soakbench.store.rows.LeftOut;
import soakbench.store.rows.SqlTimes;

/**
 * On which days each tracker was measured. Thread-safe; throws {@link StoreException} when the
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
   * The days on which a tracker's soaks began that count, by tracker.
   *
   * @param lots only trackers of these lots; null for all
   * @param zone by whose midnight a day ends
   */
  public Map<String, MeasuredDays> of(List<String> lots, ZoneId zone) {
    Map<String, SortedMap<LocalDate, Integer>> counts = new HashMap<>();
    pools.request(
        "reading when trackers were measured",
        c -> {
          Array of = lots == null ? null : c.createArrayOf("text", lots.toArray());
          Query.each(
              c,
              rows -> Map.entry(rows.getString(1), SqlTimes.us(rows, 2)),
              row ->
                  counts
                      .computeIfAbsent(row.getKey(), t -> new TreeMap<>())
                      .merge(day(row.getValue(), zone), 1, Integer::sum),
              STARTS,
              of,
              of);
          return null;
        });
    Map<String, MeasuredDays> days = new HashMap<>();
    counts.forEach((tracker, of) -> days.put(tracker, MeasuredDays.of(of)));
    return days;
  }

  private static LocalDate day(long timeUs, ZoneId zone) {
    return Instant.ofEpochSecond(Math.floorDiv(timeUs, 1_000_000L)).atZone(zone).toLocalDate();
  }
}
