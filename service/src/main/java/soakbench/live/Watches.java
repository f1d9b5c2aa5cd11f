package soakbench.live;

import java.util.Collection;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.StreamSupport;
import soakbench.model.Sample;
import soakbench.model.Soak;

/**
 * The watch of every tracker heard, within units of work that the caller opens and commits. Not
 * thread-safe.
 */
final class Watches {
  private static final long REDERIVE_EVERY_US = 5_000_000L;

  private final SoakContext context;
  private final EventClock clock;
  private final Map<String, TrackerWatch> byTracker = new HashMap<>();
  private final Map<String, Long> rederivedAtUs = new HashMap<>();

  Watches(SoakContext context, EventClock clock) {
    this.context = context;
    this.clock = clock;
  }

  Collection<TrackerWatch> all() {
    return byTracker.values();
  }

  Set<String> trackers() {
    return byTracker.keySet();
  }

  /** Those of these trackers, in their order. */
  List<TrackerWatch> of(Iterable<String> trackers) {
    return StreamSupport.stream(trackers.spliterator(), false).map(byTracker::get).toList();
  }

  /** The one whose open soak has this id. */
  Optional<TrackerWatch> withOpen(String soak) {
    return byTracker.values().stream()
        .filter(w -> w.run().filter(run -> run.id().equals(soak)).isPresent())
        .findFirst();
  }

  /** Forgets all and takes up where the store was left. */
  void restore(SoakStore.Unit unit, Restoring heard) {
    byTracker.clear();
    List<Soak> soaks = unit.lastSoaks();
    for (Soak soak : soaks) {
      heard.reached(byTracker.size(), soaks.size());
      TrackerWatch watch = new Restoration(unit, context).of(soak);
      watch.heardAt(clock.nowUs());
      byTracker.put(soak.tracker(), watch);
    }
    rederive(unit);
  }

  /** Takes a sample that is stored already. */
  void take(SoakStore.Unit unit, Sample sample, Derived out) {
    TrackerWatch watch =
        byTracker.computeIfAbsent(sample.tracker(), t -> new TrackerWatch(t, context));
    boolean late = watch.late(sample);
    watch.heard(sample, clock.nowUs());
    if (late) {
      unit.markStale(sample.tracker(), sample.second());
      return;
    }
    boolean first = !watch.begun();
    if (first && watch.oldestOpen(sample)) {
      // Until its first second closes it has no soak to find it by after a crash.
      unit.markStale(sample.tracker(), sample.second());
    }
    watch.accept(sample, out);
    if (first && watch.begun()) {
      unit.clearStale(sample.tracker());
    }
  }

  /**
   * Lets time pass without samples, and derives again what late samples made out of date, each
   * tracker every few seconds at most.
   *
   * @return the trackers of which something new is known
   */
  Set<String> tick(SoakStore.Unit unit, long nowUs) {
    Set<String> touched = new LinkedHashSet<>();
    for (TrackerWatch watch : byTracker.values()) {
      Derived out = context.nothingYet();
      boolean first = !watch.begun();
      watch.tick(nowUs, out);
      if (!out.nothing()) {
        out.write(unit);
        touched.add(watch.tracker());
      }
      if (first && watch.begun()) {
        unit.clearStale(watch.tracker());
      }
    }
    for (String tracker : unit.staleTrackers()) {
      boolean due = nowUs - rederivedAtUs.getOrDefault(tracker, 0L) >= REDERIVE_EVERY_US;
      if (due && derivable(tracker)) {
        rederive(unit, tracker);
        rederivedAtUs.put(tracker, nowUs);
        touched.add(tracker);
      }
    }
    return touched;
  }

  /**
   * The mark that only stands for a first second still open is no reason to derive anything again.
   */
  private boolean derivable(String tracker) {
    TrackerWatch watch = byTracker.get(tracker);
    return watch == null || watch.begun();
  }

  /** Derives again at once whatever late samples made out of date; returns those trackers. */
  List<String> rederive(SoakStore.Unit unit) {
    List<String> stale = unit.staleTrackers();
    stale.forEach(tracker -> rederive(unit, tracker));
    return stale;
  }

  private void rederive(SoakStore.Unit unit, String tracker) {
    Optional<Long> from = unit.staleFrom(tracker);
    if (from.isPresent()) {
      TrackerWatch known = byTracker.get(tracker);
      long nowUs = clock.nowUs();
      long heardAtUs = known == null ? nowUs : known.heardAtUs();
      TrackerWatch watch =
          new Rederivation(unit, context).of(tracker, from.get(), heardAtUs, nowUs);
      byTracker.put(tracker, watch);
      if (watch.begun()) {
        unit.clearStale(tracker);
      }
    }
  }

  /** Judges these soaks, open ones of trackers heard, by other limits. */
  void judgeAgain(LimitsTurn turn, List<Soak> soaks) {
    for (Soak soak : soaks) {
      long heardAtUs = byTracker.get(soak.tracker()).heardAtUs();
      byTracker.put(soak.tracker(), turn.judgedAgain(soak, heardAtUs));
    }
  }

  /** Closes all seconds and judges them, as if two more seconds had passed. */
  void finish(Derived out) {
    for (TrackerWatch watch : byTracker.values()) {
      watch.closeBefore(Long.MAX_VALUE, out);
      watch.run().ifPresent(run -> finish(run, out));
    }
  }

  private static void finish(SoakRun run, Derived out) {
    run.flush(out);
    out.summary(run.summary(run.last().lastUs(), false));
  }
}
