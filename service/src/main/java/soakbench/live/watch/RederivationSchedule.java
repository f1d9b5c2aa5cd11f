package soakbench.live.watch;

import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Predicate;
import soakbench.live.SoakStore;
import soakbench.live.StaleRange;

/**
 * Schedules what is to be derived again because samples came late: a tracker's late samples are
 * gathered for some seconds, for longer the more of them come and the more the last run cost.
 * Mirrors the store's marks. Not thread-safe.
 */
final class RederivationSchedule {
  private static final long PAUSE_US = 5_000_000L;
  private static final long LONGEST_PAUSE_US = 60_000_000L;

  /** At most one part in so many of a core goes into deriving again. */
  private static final long SHARE = 4;

  /** Worked for so long before it rests: of a whole rack many short soaks are late at once. */
  private static final long AT_ONCE_US = 60_000L;

  /** And one in so many for one tracker. */
  private static final long SHARE_OF_ONE = 20;

  private record Round(long endUs, long pauseUs) {}

  private final Map<String, StaleRange> late = new HashMap<>();
  private final Map<String, Round> rounds = new HashMap<>();
  private String underWay;
  private StaleRange since;
  private long workedUs;
  private long restUntilUs = Long.MIN_VALUE;

  /**
   * Drops all and reads what is marked in the store.
   *
   * @param which trackers are to be derived here
   */
  void read(SoakStore.Unit unit, Predicate<String> which) {
    late.clear();
    unit.staleTrackers().stream().filter(which).forEach(tracker -> read(unit, tracker));
  }

  /** Reads what is marked of one tracker. */
  void read(SoakStore.Unit unit, String tracker) {
    unit.stale(tracker).ifPresent(range -> late.put(tracker, range));
  }

  /** Forgets trackers that are derived elsewhere. */
  void keepOnly(Predicate<String> which) {
    late.keySet().removeIf(which.negate());
  }

  /** Samples of trackers came late, or wait for their first second to close. */
  void mark(SoakStore.Unit unit, Map<String, StaleRange> seconds) {
    if (seconds.isEmpty()) {
      return;
    }
    unit.markStale(seconds);
    seconds.forEach((tracker, its) -> late.merge(tracker, its, StaleRange::and));
    StaleRange its = underWay == null ? null : seconds.get(underWay);
    if (its != null) {
      since = since == null ? its : since.and(its);
    }
  }

  /** The job under way makes this stale until it is done: no reason to run it again. */
  void widen(SoakStore.Unit unit, String tracker, StaleRange seconds) {
    unit.markStale(Map.of(tracker, seconds));
    late.merge(tracker, seconds, StaleRange::and);
  }

  /** Nothing of it is out of date any more. */
  void clear(SoakStore.Unit unit, String tracker) {
    unit.clearStale(tracker);
    late.remove(tracker);
  }

  Set<String> trackers() {
    return new LinkedHashSet<>(late.keySet());
  }

  StaleRange of(String tracker) {
    return late.get(tracker);
  }

  /**
   * The tracker that is to be derived again now; until {@link #done} no other is.
   *
   * @param ready which may be
   */
  Optional<String> next(long nowUs, Predicate<String> ready) {
    if (underWay != null || nowUs < restUntilUs) {
      return Optional.empty();
    }
    Optional<String> next =
        late.keySet().stream()
            .filter(ready)
            .filter(t -> nowUs >= dueUs(t))
            .min((a, b) -> Long.compare(dueUs(a), dueUs(b)));
    underWay = next.orElse(null);
    since = null;
    return next;
  }

  /** Postpones this part of the tracker under way. */
  void leave(StaleRange seconds) {
    since = since == null ? seconds : since.and(seconds);
  }

  private long dueUs(String tracker) {
    Round round = rounds.get(tracker);
    return round == null ? Long.MIN_VALUE : round.endUs() + round.pauseUs();
  }

  /** The tracker under way is derived again; what came late since is still to be. */
  void derived(SoakStore.Unit unit) {
    String tracker = underWay;
    StaleRange more = since;
    clear(unit, tracker);
    if (more != null) {
      mark(unit, Map.of(tracker, more));
    }
  }

  /** The work under way is over, whatever became of it. */
  void done(long beganUs, long nowUs) {
    long tookUs = nowUs - beganUs;
    Round before = rounds.get(underWay);
    boolean soon = before != null && beganUs - before.endUs() < 2 * before.pauseUs();
    long pauseUs = soon ? Math.min(2 * before.pauseUs(), LONGEST_PAUSE_US) : PAUSE_US;
    rounds.put(underWay, new Round(nowUs, Math.max(pauseUs, SHARE_OF_ONE * tookUs)));
    rounds.values().removeIf(round -> nowUs > round.endUs() + 2 * round.pauseUs());
    workedUs += tookUs;
    if (workedUs >= AT_ONCE_US) {
      restUntilUs = nowUs + (SHARE - 1) * workedUs;
      workedUs = 0;
    }
    underWay = null;
    since = null;
  }
}
