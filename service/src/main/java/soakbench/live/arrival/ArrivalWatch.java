package soakbench.live.arrival;

import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Supplier;
import java.util.function.ToDoubleFunction;
import soakbench.live.EventClock;
import soakbench.live.Liveness;
import soakbench.model.Limits;

/**
 * Watches what arrives, tracker by tracker and in the order of arrival, so that heat and silence
 * are seen whatever the stamps say and whether or not anything can be stored. For any thread; waits
 * for no database and not for who writes.
 */
public final class ArrivalWatch implements Arrivals, Liveness {
  /** So many trackers are watched at most; garbled lines and floods make up ids. */
  static final int MOST = 4_096;

  /** A tracker that nothing came of for so long is of no use here. */
  private static final long KEPT_US = 2 * TrackerArrivals.FORGOTTEN_US;

  /** Of a tracker that made itself known there are at least so many readings. */
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
   * Says whom to ask from now on what is to be added to a tracker's temperatures, degC, by its id;
   * at first nobody. Called with every reading: must answer at once.
   */
  public void askAboutOffsets(ToDoubleFunction<String> whom) {
    offsetC = whom;
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

  /** A place for a tracker that is new; null where all are taken by hot ones. */
  private synchronized TrackerArrivals admitted(String id) {
    if (byTracker.size() >= most) {
      makeRoom();
    }
    return byTracker.size() >= most
        ? byTracker.get(id)
        : byTracker.computeIfAbsent(id, i -> new TrackerArrivals(limits, clock.runningUs()));
  }

  private record Leaving(String tracker, int worth, long touchedUs) {}

  /** An eighth at a time: each must be looked at. Those that are hot stay. */
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
    Arrived a = arrivals.standing(id);
    boolean heard = a != null && a.heardUs() >= silentUs;
    boolean hot = a != null && a.heat() != null;
    int worth = hot ? heard ? 3 : 2 : !heard ? 0 : a.readings() < ESTABLISHED ? 1 : 2;
    return new Leaving(id, worth, arrivals.touchedUs());
  }

  /** Forgets those that nothing came of for long. */
  void pass(long nowUs) {
    byTracker.values().removeIf(t -> nowUs - t.touchedUs() > KEPT_US);
  }

  @Override
  public OptionalLong streamUs(String tracker) {
    return standing(tracker)
        .filter(a -> clock.runningUs() - a.heardUs() <= TrackerArrivals.FORGOTTEN_US)
        .filter(a -> a.stampUs() != Long.MIN_VALUE)
        .map(a -> OptionalLong.of(a.stampUs()))
        .orElse(OptionalLong.empty());
  }

  /** How a tracker stands; empty where nothing of now was heard of it. */
  Optional<Arrived> standing(String tracker) {
    TrackerArrivals there = byTracker.get(tracker);
    return Optional.ofNullable(there == null ? null : there.standing(tracker));
  }

  /** Whether anything came of it lately, be it of the past. */
  boolean knows(String tracker) {
    return byTracker.containsKey(tracker);
  }

  /** Ids of all that anything came of lately. */
  Set<String> trackers() {
    return Set.copyOf(byTracker.keySet());
  }

  /** Says that all that arrived of a tracker so far is judged. */
  void judged(String tracker) {
    TrackerArrivals there = byTracker.get(tracker);
    if (there != null) {
      there.judged();
    }
  }

  /** For tests: how many are watched. */
  int size() {
    return byTracker.size();
  }

  /** For tests and looks at all. */
  List<Arrived> all() {
    return byTracker.entrySet().stream()
        .map(e -> e.getValue().standing(e.getKey()))
        .filter(a -> a != null)
        .toList();
  }
}
