package soakbench.api.samples;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.OptionalLong;

/**
 * Times for senders that know only the milliseconds since they were switched on. The first request
 * of a boot sets its clock: its newest line counts as taken when the request arrived. It stays
 * fixed, so that a request sent again gives the same times. Lost when the service restarts.
 * Thread-safe.
 */
public final class BootClocks {
  private static final int MOST_BOOTS = 10_000;
  private static final long US_PER_MS = 1_000;

  private final Map<Key, Clock> clocks =
      new LinkedHashMap<>(64, 0.75f, true) {
        private static final long serialVersionUID = 1L;

        @Override
        protected boolean removeEldestEntry(Map.Entry<Key, Clock> eldest) {
          return size() > MOST_BOOTS;
        }
      };

  private record Key(String tracker, String boot) {}

  /** Where a counter stood at a time; it wraps at 2^32. */
  private record Clock(long tMs, long timeUs) {
    long timeUs(long laterTMs) {
      int sinceMs = (int) (laterTMs - tMs);
      return timeUs + sinceMs * US_PER_MS;
    }

    /**
     * The same clock moved to a newer reading, so that wraps can be detected for another 24 days.
     */
    Clock moved(long newerTMs) {
      return (int) (newerTMs - tMs) > 0 ? new Clock(newerTMs, timeUs(newerTMs)) : this;
    }
  }

  /**
   * The time of a reading, microseconds since 1970; nothing while its boot is not known, or where
   * the time would be after {@code latestUs}.
   */
  synchronized OptionalLong timeUs(String tracker, String boot, long tMs, long latestUs) {
    Key key = new Key(tracker, boot);
    Clock clock = clocks.get(key);
    if (clock == null || clock.timeUs(tMs) > latestUs) {
      return OptionalLong.empty();
    }
    clocks.put(key, clock.moved(tMs));
    return OptionalLong.of(clock.timeUs(tMs));
  }

  /** Fixes a boot's clock, unless it is fixed already. */
  synchronized void fix(String tracker, String boot, long newestTMs, long arrivalUs) {
    clocks.putIfAbsent(new Key(tracker, boot), new Clock(newestTMs, arrivalUs));
  }
}
