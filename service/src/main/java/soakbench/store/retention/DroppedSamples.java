package soakbench.store.retention;

import java.sql.Connection;
import java.sql.SQLException;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.NavigableMap;
import java.util.TreeMap;
import java.util.concurrent.atomic.LongAdder;
import soakbench.live.StoreException;
import soakbench.store.connection.Pools;
import soakbench.store.connection.Query;
import soakbench.store.rows.SqlTimes;

/**
 * Refuses samples of soaks whose samples were dropped: that soak is derived from them no more, and
 * whether they were among them nobody can tell. Thread-safe.
 */
public final class DroppedSamples {
  private static final int MOST_TRACKERS = 200;

  private static final String NEWEST =
      "SELECT max(end_time) FROM soak WHERE samples_dropped IS NOT NULL";

  private static final String OF =
      "SELECT start_time, end_time, samples_dropped FROM soak"
          + " WHERE tracker = ? AND samples_dropped IS NOT NULL";

  private record Stretch(long fromUs, long toUs, long droppedUs) {}

  private final Pools pools;
  private final LongAdder refused = new LongAdder();

  /** By their start, of the trackers that were asked for last. */
  private final Map<String, NavigableMap<Long, Stretch>> known =
      new LinkedHashMap<>(16, 0.75f, true) {
        private static final long serialVersionUID = 1L;

        @Override
        protected boolean removeEldestEntry(Map.Entry<String, NavigableMap<Long, Stretch>> e) {
          return size() > MOST_TRACKERS;
        }
      };

  /** Up to when there may be any, microseconds since 1970; null where that is to be read. */
  private Long newestUs;

  DroppedSamples(Pools pools) {
    this.pools = pools;
  }

  /**
   * Why a sample of this time is not taken; null where it is.
   *
   * @throws StoreException if the database does not answer
   */
  public synchronized String refusal(String tracker, long timeUs) {
    if (newestUs == null) {
      newestUs = pools.request("looking for dropped samples", DroppedSamples::newest);
    }
    if (timeUs > newestUs) {
      return null;
    }
    Map.Entry<Long, Stretch> at =
        known.computeIfAbsent(tracker, this::stretches).floorEntry(timeUs);
    if (at == null || timeUs > at.getValue().toUs()) {
      return null;
    }
    refused.increment();
    return ("The samples of %s's soak of %s were dropped on %s, as samples are kept for a limited"
            + " time here. What was derived from them stays; a sample of then is taken no more.")
        .formatted(tracker, text(at.getValue().fromUs()), text(at.getValue().droppedUs()));
  }

  private static String text(long us) {
    return Instant.ofEpochSecond(Math.floorDiv(us, 1_000_000L)).toString();
  }

  private static long newest(Connection c) throws SQLException {
    return Query.list(
            c, rows -> rows.getObject(1) == null ? Long.MIN_VALUE : SqlTimes.us(rows, 1), NEWEST)
        .get(0);
  }

  private NavigableMap<Long, Stretch> stretches(String tracker) {
    NavigableMap<Long, Stretch> found = new TreeMap<>();
    pools
        .request(
            "looking for dropped samples",
            c ->
                Query.list(
                    c,
                    rows ->
                        new Stretch(
                            SqlTimes.us(rows, 1), SqlTimes.us(rows, 2), SqlTimes.us(rows, 3)),
                    OF,
                    tracker))
        .forEach(stretch -> found.put(stretch.fromUs(), stretch));
    return found;
  }

  /** More were dropped, here or by another service, or given to another tracker. */
  public synchronized void forget() {
    newestUs = null;
    known.clear();
  }

  /** How many samples were refused since the start. */
  public long refused() {
    return refused.sum();
  }
}
