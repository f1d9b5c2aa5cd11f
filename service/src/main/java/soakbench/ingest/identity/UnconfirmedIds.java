package soakbench.ingest.identity;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import soakbench.lines.Reading;

/**
 * Ids heard once on a live input, not confirmed yet. One line may bear a garbled id; a second good
 * one within two minutes confirms that there is such a tracker. Bounded: the oldest are evicted, so
 * a flood of garbled ids shuts nobody out whose second line comes soon. Thread-safe.
 */
final class UnconfirmedIds {
  /** How soon the second line must come. */
  static final long WITHIN_US = 120_000_000;

  /** So many at a time. */
  static final int MOST = 1024;

  private static final int MOST_LISTED = 32;

  /** The first line of an id, kept until there is a second. */
  record First(IdSource from, TimedReading line) {}

  private final Map<String, First> heard = new LinkedHashMap<>();

  /** Whether it is the first line once more: a network may double it. */
  synchronized boolean isSentTwice(String tracker, First line) {
    First first = heard.get(tracker);
    return isInTime(first, line) && isSentTwice(first.line().reading(), line.line().reading());
  }

  /** Takes a line; gives the first one where this is the second, else null. */
  synchronized First take(String tracker, First line) {
    First first = heard.remove(tracker);
    if (isInTime(first, line)) {
      return first;
    }
    heard.put(tracker, line);
    if (heard.size() > MOST) {
      heard.remove(heard.keySet().iterator().next());
    }
    return null;
  }

  private static boolean isInTime(First first, First line) {
    return first != null && line.line().readUs() - first.line().readUs() <= WITHIN_US;
  }

  private static boolean isSentTwice(Reading a, Reading b) {
    return (a.seq() >= 0 || a.tMs() >= 0) && LinePair.areSame(a, b);
  }

  /** The newest ids that were heard once from there, sorted. */
  synchronized List<String> of(IdSource source, long nowUs) {
    List<String> all =
        heard.entrySet().stream()
            .filter(e -> e.getValue().from() == source)
            .filter(e -> nowUs - e.getValue().line().readUs() <= WITHIN_US)
            .map(Map.Entry::getKey)
            .toList();
    return all.stream().skip(Math.max(0, all.size() - MOST_LISTED)).sorted().toList();
  }
}
