package soakbench.live.arrival;

import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Set;
import java.util.TreeMap;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Supplier;
import java.util.function.ToDoubleFunction;
import soakbench.drift.calibration.HandlingProgress;
import soakbench.live.EventClock;
import soakbench.live.Liveness;
import soakbench.model.Limits;

/**
 * Monitors what arrives, tracker by tracker and in the order of arrival, so that heat and silence
 * are detected whatever the timestamps say and whether or not anything can be stored. For any
 * thread; never waits for the database or the writer.
 */
public final class ArrivalWatch implements ArrivalListener, Liveness {
  /** So many trackers are monitored at most; garbled lines and floods make up ids. */
  static final int MOST = 4_096;

  /** A tracker that has sent nothing for so long is dropped. */
  private static final long KEPT_US = 2 * TrackerArrivals.FORGOTTEN_US;

  /** A tracker with at least so many readings is established. */
  private static final int ESTABLISHED = 3;

  private final Supplier<Limits> limits;
  private final EventClock clock;
  private final int most;
  private final Map<String, TrackerArrivals> byTracker = new ConcurrentHashMap<>();
  private volatile ToDoubleFunction<String> offsetC = tracker -> 0;

  /**
   * @param limits those in force; asked with every reading
   * @param clock when readings arrive
   */
  public ArrivalWatch(Supplier<Limits> limits, EventClock clock) {
    this(limits, clock, MOST);
  }

  ArrivalWatch(Supplier<Limits> limits, EventClock clock, int most) {
    this.limits = limits;
    this.clock = clock;
    this.most = most;
  }

  /**
   * Sets the temperature offsets to be added, degC, by tracker id; at first there are none. Called
   * with every reading: must return at once.
   */
  public void useOffsets(ToDoubleFunction<String> source) {
    offsetC = source;
  }

  @Override
  public void heard(Arrival arrival) {
    TrackerArrivals tracker = known(arrival.tracker());
    if (tracker != null) {
      double celsius = arrival.temperatureC() + offsetC.applyAsDouble(arrival.tracker());
      tracker.heard(arrival, celsius, clock.runningUs(), clock.nowUs());
    }
  }

  private TrackerArrivals known(String id) {
    TrackerArrivals there = byTracker.get(id);
    return there != null ? there : admitted(id);
  }

  /** A place for a new tracker; null where all are taken by hot ones. */
  private synchronized TrackerArrivals admitted(String id) {
    if (byTracker.size() >= most) {
      makeRoom();
    }
    return byTracker.size() >= most
        ? byTracker.get(id)
        : byTracker.computeIfAbsent(id, i -> new TrackerArrivals(limits, clock.runningUs()));
  }

  private record Leaving(String tracker, int worth, long touchedUs) {}

  /** Evicts an eighth at a time, since each must be checked. Those that are hot stay. */
  private void makeRoom() {
    long silentUs = clock.runningUs() - Math.round(limits.get().heardWithinS() * 1e6);
    byTracker.entrySet().stream()
        .map(e -> leaving(e.getKey(), e.getValue(), silentUs))
        .filter(l -> l.worth() < 3)
        .sorted(Comparator.comparingInt(Leaving::worth).thenComparingLong(Leaving::touchedUs))
        .limit(Math.max(1, most / 8))
        .forEach(l -> byTracker.remove(l.tracker()));
  }

  private static Leaving leaving(String id, TrackerArrivals arrivals, long silentUs) {
    ArrivalState a = arrivals.state(id);
    boolean heard = a != null && a.heardUs() >= silentUs;
    boolean hot = a != null && a.heat() != null;
    int worth = hot ? heard ? 3 : 2 : !heard ? 0 : a.readings() < ESTABLISHED ? 1 : 2;
    return new Leaving(id, worth, arrivals.touchedUs());
  }

  /** Drops those that have sent nothing for long. */
  void pass(long nowUs) {
    byTracker.values().removeIf(t -> nowUs - t.touchedUs() > KEPT_US);
  }

  @Override
  public OptionalLong streamUs(String tracker) {
    return state(tracker)
        .filter(a -> clock.runningUs() - a.heardUs() <= TrackerArrivals.FORGOTTEN_US)
        .filter(a -> a.stampUs() != Long.MIN_VALUE)
        .map(a -> OptionalLong.of(a.stampUs()))
        .orElse(OptionalLong.empty());
  }

  /** A tracker's state; empty where it sent nothing live. */
  Optional<ArrivalState> state(String tracker) {
    TrackerArrivals there = byTracker.get(tracker);
    return Optional.ofNullable(there == null ? null : there.state(tracker));
  }

  /** Whether anything came from it lately, live or recorded. */
  boolean knows(String tracker) {
    return byTracker.containsKey(tracker);
  }

  /** Ids of all that sent anything lately. */
  Set<String> trackers() {
    return Set.copyOf(byTracker.keySet());
  }

  /** Marks all that arrived from a tracker so far as judged. */
  void judged(String tracker) {
    TrackerArrivals there = byTracker.get(tracker);
    if (there != null) {
      there.judged();
    }
  }

  /** How the handling of each tracker that somebody holds stands, by tracker id. */
  Map<String, HandlingProgress> inHand() {
    Map<String, HandlingProgress> all = new TreeMap<>();
    long silentUs = clock.runningUs() - Math.round(limits.get().heardWithinS() * 1e6);
    byTracker.forEach(
        (id, arrivals) -> {
          HandlingProgress progress = arrivals.touchedUs() < silentUs ? null : arrivals.inHand();
          if (progress != null) {
            all.put(id, progress);
          }
        });
    return all;
  }

  /** For tests: how many are monitored. */
  int size() {
    return byTracker.size();
  }

  /** For tests and surveys of all. */
  List<ArrivalState> all() {
    return byTracker.entrySet().stream()
        .map(e -> e.getValue().state(e.getKey()))
        .filter(a -> a != null)
        .toList();
  }
}
