package soakbench.api.access;

import java.util.LinkedHashMap;
import java.util.Map;

/**
 * Counts wrong pairing codes, minute by minute, of each client and of all together. Among 2^40
 * codes and at 60 guesses a minute, whoever has any number of addresses hits a code that lives ten
 * minutes with a probability of 6e-10. Not thread-safe.
 */
final class GuessLimiter {
  static final int OF_ONE = 5;
  static final int OF_ALL = 60;

  private static final int MOST_CLIENTS = 1_000;
  private static final long MINUTE_MS = 60_000;

  private final Map<String, Integer> wrong =
      new LinkedHashMap<>() {
        private static final long serialVersionUID = 1L;

        @Override
        protected boolean removeEldestEntry(Map.Entry<String, Integer> eldest) {
          return size() > MOST_CLIENTS;
        }
      };
  private long minute = Long.MIN_VALUE;
  private int all;

  boolean mayTry(String client, long nowMs) {
    if (nowMs / MINUTE_MS != minute) {
      minute = nowMs / MINUTE_MS;
      all = 0;
      wrong.clear();
    }
    return all < OF_ALL && wrong.getOrDefault(client, 0) < OF_ONE;
  }

  /** Call after {@link #mayTry} of the same moment. */
  void wrong(String client) {
    all++;
    wrong.merge(client, 1, Integer::sum);
  }
}
