package soakbench.api.events;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import soakbench.readiness.Readiness;

/**
 * Throttles verdicts: the newest of each tracker, a moment after the first, so that the trackers of
 * a rack share an event, and not more often than twice a second each. Times are those of {@link
 * System#nanoTime}. Not thread-safe.
 */
final class VerdictThrottle {
  static final long GATHERED_NS = TimeUnit.MILLISECONDS.toNanos(20);
  static final long APART_NS = TimeUnit.MILLISECONDS.toNanos(500);

  private record Waiting(Readiness verdict, long dueNs) {}

  private final Map<String, Waiting> waiting = new LinkedHashMap<>();

  /** Before when a tracker is not published again; those long past are dropped. */
  private final Map<String, Long> notBeforeNs = new HashMap<>();

  /** Takes a verdict in place of an older one of its tracker that still waits. */
  void note(Readiness verdict, long nowNs) {
    Waiting before = waiting.get(verdict.tracker());
    long dueNs = before == null ? dueNs(verdict.tracker(), nowNs) : before.dueNs();
    waiting.put(verdict.tracker(), new Waiting(verdict, dueNs));
  }

  private long dueNs(String tracker, long nowNs) {
    Long apartNs = notBeforeNs.get(tracker);
    long gatheredNs = nowNs + GATHERED_NS;
    return apartNs != null && apartNs - gatheredNs > 0 ? apartNs : gatheredNs;
  }

  /** How long until one of them is due; {@code Long.MAX_VALUE} where none waits. */
  long dueInNs(long nowNs) {
    return waiting.values().stream().mapToLong(w -> w.dueNs() - nowNs).min().orElse(Long.MAX_VALUE);
  }

  /** Those that are due, which then no longer wait. */
  List<Readiness> taken(long nowNs) {
    notBeforeNs.values().removeIf(ns -> ns - nowNs <= 0);
    List<Readiness> taken = new ArrayList<>();
    Iterator<Map.Entry<String, Waiting>> all = waiting.entrySet().iterator();
    while (all.hasNext()) {
      Map.Entry<String, Waiting> each = all.next();
      if (each.getValue().dueNs() - nowNs <= 0) {
        taken.add(each.getValue().verdict());
        notBeforeNs.put(each.getKey(), nowNs + APART_NS);
        all.remove();
      }
    }
    return taken;
  }
}
