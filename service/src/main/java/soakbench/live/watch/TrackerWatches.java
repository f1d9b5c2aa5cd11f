package soakbench.live.watch;

import java.util.ArrayList;
import java.util.Collection;
import java.util.Collections;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.IdentityHashMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.StreamSupport;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.live.EventClock;
import soakbench.live.ImportedStretch;
import soakbench.live.Liveness;
import soakbench.live.RestoreProgress;
import soakbench.live.SoakStore;
import soakbench.live.StaleRange;
import soakbench.live.StoreException;
import soakbench.model.Bin;
import soakbench.model.Sample;
import soakbench.model.Soak;

/**
 * The watch of every tracker heard, within units of work that the caller opens and commits. Not
 * thread-safe.
 */
final class TrackerWatches {
  private static final Logger LOG = LoggerFactory.getLogger(TrackerWatches.class);

  /** No soak is begun to be ended later in a tick than this; what is live waits for it. */
  private static final long ENDING_US = 100_000;

  private final SoakContext context;
  private final EventClock clock;
  private final OwnTrackers own;
  private final Map<String, TrackerWatch> byTracker = new HashMap<>();
  private final RederivationSchedule late = new RederivationSchedule();
  private volatile Liveness liveness = tracker -> OptionalLong.empty();
  private volatile boolean knowsLiveness;

  /**
   * @param own trackers to watch; others are left alone
   */
  TrackerWatches(SoakContext context, EventClock clock, OwnTrackers own) {
    this.context = context;
    this.clock = clock;
    this.own = own;
  }

  Collection<TrackerWatch> all() {
    return byTracker.values();
  }

  Set<String> trackers() {
    return byTracker.keySet();
  }

  /** Those of these trackers, in their order. */
  List<TrackerWatch> of(Iterable<String> trackers) {
    return StreamSupport.stream(trackers.spliterator(), false)
        .map(byTracker::get)
        .filter(Objects::nonNull)
        .toList();
  }

  /** The one whose open soak has this id. */
  Optional<TrackerWatch> withOpen(String soak) {
    return byTracker.values().stream()
        .filter(w -> w.run().filter(run -> run.id().equals(soak)).isPresent())
        .findFirst();
  }

  /**
   * Drops all and restores the state from the store. What late samples made out of date is left for
   * later, but for trackers that have no soak yet.
   */
  void restore(SoakStore.Unit unit, RestoreProgress heard) {
    late.read(unit, own::has);
    List<Soak> soaks = own(unit.lastSoaks());
    List<TrackerWatch> restored = new ArrayList<>();
    int atOnce = Runtime.getRuntime().availableProcessors();
    for (int from = 0; from < soaks.size(); from += atOnce) {
      heard.reached(from, soaks.size());
      restored.addAll(restored(unit, soaks.subList(from, Math.min(soaks.size(), from + atOnce))));
    }
    Map<String, TrackerWatch> before = Map.copyOf(byTracker);
    byTracker.clear();
    restored.forEach(watch -> byTracker.put(watch.tracker(), watch));
    for (String tracker : late.trackers()) {
      if (!byTracker.containsKey(tracker)) {
        rederive(unit, tracker);
      }
    }
    byTracker.values().forEach(watch -> watch.heardAt(heardAtUs(watch, before)));
  }

  /** A failure of the store is no reason to forget for how long a tracker has been quiet. */
  private long heardAtUs(TrackerWatch restored, Map<String, TrackerWatch> before) {
    TrackerWatch known = before.get(restored.tracker());
    boolean nothingNewer = known != null && restored.newestUs() <= known.newestUs();
    return nothingNewer ? known.heardAtUs() : clock.runningUs();
  }

  /** Judged side by side, for that is nearly all of the time that a start takes. */
  private List<TrackerWatch> restored(SoakStore.Unit unit, List<Soak> soaks) {
    Restoration restoration = new Restoration(unit, context);
    List<Attempt<Restoration.Stored>> stored =
        soaks.stream().map(soak -> Attempt.at(soak, restoration::stored)).toList();
    List<Attempt<Restoration.Judged>> judged =
        stored.stream().parallel().map(one -> one.then(Restoration::judged)).toList();
    return judged.stream()
        .map(one -> one.then(restoration::finished))
        .map(one -> one.done() == null ? unreadable(unit, one.soak(), one.failure()) : one.done())
        .toList();
  }

  /**
   * How far it was got with a soak. One that can't be read must not keep the others from being
   * judged.
   *
   * @param done what came of it; null where it failed
   */
  private record Attempt<T>(Soak soak, T done, RuntimeException failure) {
    static <T> Attempt<T> at(Soak soak, Function<Soak, T> work) {
      return new Attempt<>(soak, soak, null).then(work);
    }

    <U> Attempt<U> then(Function<T, U> work) {
      if (failure != null) {
        return new Attempt<>(soak, null, failure);
      }
      try {
        return new Attempt<>(soak, work.apply(done), null);
      } catch (StoreException away) {
        throw away;
      } catch (RuntimeException unreadable) {
        return new Attempt<>(soak, null, unreadable);
      }
    }
  }

  private TrackerWatch unreadable(SoakStore.Unit unit, Soak soak, RuntimeException why) {
    LOG.error(
        "{}: its soak {} can't be taken up again; what comes begins another",
        soak.tracker(),
        soak.id(),
        why);
    if (soak.open()) {
      unit.writeSoak(soak.endedBy(Soak.End.SILENCE));
    }
    return new TrackerWatch(soak.tracker(), context);
  }

  /**
   * Takes samples, by time.
   *
   * @param fresh those of them that are stored just now; the others' times were taken before
   * @param recorded whether they are of recordings: those that come late are late, and show nothing
   *     of a clock
   * @return trackers whose clock was found to be set back
   */
  Set<String> take(
      SoakStore.Unit unit,
      List<Sample> samples,
      Collection<Sample> fresh,
      boolean recorded,
      PendingWrites out) {
    Set<Sample> stored = Collections.newSetFromMap(new IdentityHashMap<>());
    stored.addAll(fresh);
    Set<String> set = new HashSet<>();
    Map<String, StaleRange> marks = new LinkedHashMap<>();
    for (Sample sample : samples) {
      boolean isNew = stored.contains(sample);
      if (set.contains(sample.tracker()) || isNew && take(unit, sample, out)) {
        continue;
      }
      if (!recorded && clockSet(unit, sample, samples, stored, out)) {
        set.add(sample.tracker());
      } else if (isNew) {
        marks.merge(sample.tracker(), StaleRange.of(sample.second()), StaleRange::and);
      }
    }
    late.mark(unit, marks);
    return set;
  }

  /** Takes one; false where it came late. */
  private boolean take(SoakStore.Unit unit, Sample sample, PendingWrites out) {
    TrackerWatch watch =
        byTracker.computeIfAbsent(sample.tracker(), t -> new TrackerWatch(t, context));
    boolean isLate = watch.late(sample);
    watch.heard(sample, clock.runningUs());
    if (isLate) {
      return false;
    }
    watch.clockStep().laterGoesOn();
    boolean first = !watch.begun();
    if (first && watch.oldestOpen(sample)) {
      // Until its first second closes it has no soak to find it by after a crash.
      late.mark(unit, Map.of(sample.tracker(), StaleRange.of(sample.second())));
    }
    if (watch.apart(sample)) {
      unit.setAside(sample.tracker(), sample.timeUs(), sample.timeUs() + 1, Set.of());
    }
    watch.accept(sample, out);
    if (first && watch.begun()) {
      late.clear(unit, sample.tracker());
    }
    return true;
  }

  /** Whether with this sample, which came late, it shows that the tracker's clock was set back. */
  private boolean clockSet(
      SoakStore.Unit unit,
      Sample sample,
      List<Sample> batch,
      Set<Sample> stored,
      PendingWrites out) {
    TrackerWatch watch = byTracker.get(sample.tracker());
    long nowUs = clock.runningUs();
    if (watch == null) {
      return false;
    }
    OptionalLong streamUs = liveness.streamUs(sample.tracker());
    boolean isNew = stored.contains(sample);
    if (!watch.clockStep().take(sample, isNew, streamUs, watch.newestUs(), nowUs)
        || sentAgain(unit, watch)) {
      return false;
    }
    out.write(unit);
    out.clear();
    List<Sample> rest =
        batch.stream()
            .filter(s -> s.tracker().equals(sample.tracker()) && s.timeUs() > sample.timeUs())
            .toList();
    TrackerWatch after = new ClockCut(unit, context, stored).of(watch, rest);
    after.heardAt(nowUs);
    byTracker.put(sample.tracker(), after);
    return true;
  }

  /**
   * Whether what seemed to show a clock that was set back is stored already, so that it was only
   * sent again.
   */
  private static boolean sentAgain(SoakStore.Unit unit, TrackerWatch watch) {
    ClockStepDetector step = watch.clockStep();
    if (!step.someNotStored()) {
      return false;
    }
    List<Sample> stream = step.stream();
    long toUs = stream.get(stream.size() - 1).timeUs() + 1;
    return !step.showsWithout(unit.samples(watch.tracker(), stream.get(0).timeUs(), toUs));
  }

  /** Sets what knows which trackers are live; until then all are. */
  void useLiveness(Liveness source) {
    liveness = source;
    knowsLiveness = true;
  }

  /** Whether what comes of it is being measured now, or may be by its times. */
  private boolean measuredNow(TrackerWatch watch) {
    return !knowsLiveness
        || liveness.streamUs(watch.tracker()).isPresent()
        || clock.nowUs() - watch.newestUs() <= SoakCutter.SILENCE_ENDS_US;
  }

  /**
   * A tick without samples. Soaks that end are fitted, which takes a while: where many end at once,
   * as after a long pause of the service, some are left to the next ticks.
   *
   * @return the trackers of which something new is known
   */
  Set<String> tick(SoakStore.Unit unit, long nowUs) {
    Set<String> touched = new LinkedHashSet<>();
    long beganUs = clock.runningUs();
    PendingWrites all = context.nothingYet();
    for (TrackerWatch watch : byTracker.values()) {
      boolean measuredNow = measuredNow(watch);
      if (watch.endsAt(nowUs, measuredNow) && clock.runningUs() - beganUs > ENDING_US) {
        continue;
      }
      PendingWrites out = context.nothingYet();
      boolean first = !watch.begun();
      watch.tick(nowUs, measuredNow, out);
      if (!out.nothing()) {
        all.add(out);
        touched.add(watch.tracker());
      }
      if (first && watch.begun()) {
        late.clear(unit, watch.tracker());
      }
    }
    all.write(unit);
    return touched;
  }

  /** Keeps the judges of some soaks that have gone on for long since they were kept. */
  void keepDue(SoakStore.Unit unit) {
    judges(unit).keepDue(byTracker.values());
  }

  /** Keeps those of some that have gone on at all; whether there were any. */
  boolean keepMore(SoakStore.Unit unit) {
    return judges(unit).keepMore(byTracker.values());
  }

  private KeptJudges judges(SoakStore.Unit unit) {
    return new KeptJudges(unit, context.program().get());
  }

  /** What is to be derived again now; empty where nothing is, or something is under way. */
  Optional<RederivationJob> next() {
    long nowUs = clock.runningUs();
    return late.next(nowUs, this::derivable).map(t -> job(byTracker.get(t), nowUs));
  }

  private RederivationJob job(TrackerWatch watch, long nowUs) {
    List<StaleRange> parts = watch.parts(late.of(watch.tracker()));
    parts.stream().skip(1).forEach(late::leave);
    return new RederivationJob(watch, parts.get(0), context.apart(), nowUs);
  }

  /**
   * The mark that only stands for a first second still open is no reason to derive anything again;
   * and what may be of a clock that was set back is waited for.
   */
  private boolean derivable(String tracker) {
    TrackerWatch watch = byTracker.get(tracker);
    return watch.begun() && !watch.clockStep().possible(clock.runningUs());
  }

  /** Whether what the job began with still stands. */
  boolean stands(RederivationJob job) {
    return byTracker.get(job.tracker()) == job.watch() && job.watch().cuts() == job.cuts();
  }

  /** Keeps bins that a job made before all of it is derived. */
  void keep(SoakStore.Unit unit, RederivationJob job, List<Bin> bins) {
    unit.writeBins(bins);
    // Until it is derived to the end they and those that were before are not of one piece.
    late.widen(unit, job.tracker(), new StaleRange(job.late().fromSecond(), last(bins).second()));
  }

  private static Bin last(List<Bin> bins) {
    return bins.get(bins.size() - 1);
  }

  /** Puts in its place what a job derived; false where that no longer fits. */
  boolean place(SoakStore.Unit unit, RederivationJob job, RederivedSoaks derived) {
    if (!stands(job) || !derived.holds(unit)) {
      return false;
    }
    put(unit, job, derived);
    late.derived(unit);
    return true;
  }

  void done(RederivationJob job) {
    late.done(job.beganUs(), clock.runningUs());
  }

  /** Derives again at once whatever late samples made out of date; returns those trackers. */
  Set<String> rederive(SoakStore.Unit unit) {
    Set<String> stale = late.trackers();
    stale.forEach(tracker -> rederive(unit, tracker));
    return stale;
  }

  /** The same of trackers whose soak goes on. */
  void rederiveOpen(SoakStore.Unit unit) {
    late.trackers().stream()
        .filter(tracker -> byTracker.get(tracker).run().isPresent())
        .forEach(tracker -> rederive(unit, tracker));
  }

  private void rederive(SoakStore.Unit unit, String tracker) {
    TrackerWatch begun = byTracker.computeIfAbsent(tracker, t -> new TrackerWatch(t, context));
    for (StaleRange part : begun.parts(late.of(tracker))) {
      RederivationJob job =
          new RederivationJob(byTracker.get(tracker), part, context.apart(), clock.runningUs());
      put(unit, job, job.derive(unit, unit::writeBins));
    }
    if (byTracker.get(tracker).begun()) {
      late.clear(unit, tracker);
    }
  }

  private void put(SoakStore.Unit unit, RederivationJob job, RederivedSoaks derived) {
    TrackerWatch live = job.watch();
    if (job.ahead()) {
      derived.closeAgain(unit);
    } else if (derived.goesOn()) {
      long heardAtUs = live.begun() ? live.heardAtUs() : clock.runningUs();
      derived.watch().passesAs(live);
      derived.catchUp(unit, heardAtUs, clock.runningUs(), measuredNow(live));
      byTracker.put(live.tracker(), derived.watch());
    }
    derived.write(unit);
    derived.publishTo(context.earlier());
  }

  /**
   * Takes what came by an import out of a stretch; of its tracker the watch is restored from the
   * store, where it is about what lies there.
   *
   * @return how many samples there were
   */
  long takeOut(SoakStore.Unit unit, long imported, ImportedStretch stretch) {
    long taken = new TakingOut(unit, context).of(imported, stretch);
    TrackerWatch live = byTracker.get(stretch.tracker());
    if (live == null || !live.beganAfter(stretch.toUs())) {
      restore(unit, stretch.tracker());
    }
    return taken;
  }

  /** Those of these soaks that are of trackers to watch. */
  List<Soak> own(List<Soak> soaks) {
    return soaks.stream().filter(soak -> own.has(soak.tracker())).toList();
  }

  /** Forgets trackers that were moved away; whether there were any. */
  boolean keepOwn() {
    late.keepOnly(own::has);
    return !own.all() && byTracker.keySet().removeIf(tracker -> !own.has(tracker));
  }

  /** Restores a tracker that was moved here. */
  void takeUp(SoakStore.Unit unit, String tracker) {
    late.read(unit, tracker);
    restore(unit, tracker);
  }

  /** Restores one tracker from the store, as after a restart. */
  private void restore(SoakStore.Unit unit, String tracker) {
    TrackerWatch before = byTracker.remove(tracker);
    Optional<Soak> last =
        unit.soaks(tracker, Long.MIN_VALUE).stream()
            .max(Comparator.comparing(Soak::open).thenComparingLong(Soak::startUs));
    if (last.isPresent()) {
      TrackerWatch now = restored(unit, List.of(last.get())).get(0);
      now.heardAt(before == null ? clock.runningUs() : before.heardAtUs());
      byTracker.put(tracker, now);
    } else if (late.of(tracker) != null) {
      rederive(unit, tracker);
    }
  }

  /** Whether a tracker is heard now, as far as that is known. */
  boolean isLive(String tracker) {
    return liveness.streamUs(tracker).isPresent();
  }

  /**
   * Ends the open soak of a tracker that was taken off. What came late is worked in before: where
   * the clock had told a silence that it contradicts, it is all of the newest that was heard.
   *
   * @return the soak that ended so; empty where it had ended by itself, or was moved away
   */
  Optional<Soak> takeOff(SoakStore.Unit unit, String tracker) {
    if (!byTracker.containsKey(tracker)) {
      return Optional.empty();
    }
    if (late.of(tracker) != null) {
      rederive(unit, tracker);
    }
    PendingWrites out = context.nothingYet();
    byTracker.get(tracker).takeOff(out);
    out.write(unit);
    return out.soaks.values().stream().filter(s -> s.ended() == Soak.End.TAKEN_OFF).findFirst();
  }

  /**
   * Ends what goes on of a tracker and forgets it, for its samples are given to another.
   *
   * @return its soaks that are stored then
   */
  List<Soak> finishOff(SoakStore.Unit unit, String tracker) {
    if (late.of(tracker) != null) {
      rederive(unit, tracker);
    }
    TrackerWatch watch = byTracker.remove(tracker);
    if (watch != null) {
      PendingWrites out = context.nothingYet();
      watch.closeBefore(Long.MAX_VALUE, out);
      watch.end(Soak.End.SILENCE, out);
      out.write(unit);
    }
    late.clear(unit, tracker);
    return unit.soaks(tracker, Long.MIN_VALUE);
  }

  /** Takes up a soak that was given to a tracker, where it is newer than what it is watched by. */
  void adopt(SoakStore.Unit unit, Soak soak) {
    TrackerWatch watch = byTracker.get(soak.tracker());
    if (watch == null) {
      restore(unit, soak.tracker());
    } else if (watch.newestUs() < soak.startUs()) {
      PendingWrites out = context.nothingYet();
      watch.closeBefore(Long.MAX_VALUE, out);
      watch.endBefore(soak.startUs(), out);
      out.write(unit);
      restore(unit, soak.tracker());
    }
  }

  /** Marks samples that were given to a tracker as having come late. */
  void adoptLate(SoakStore.Unit unit, String tracker, StaleRange seconds) {
    byTracker.computeIfAbsent(tracker, t -> new TrackerWatch(t, context));
    late.mark(unit, Map.of(tracker, seconds));
    if (!byTracker.get(tracker).begun()) {
      rederive(unit, tracker);
    }
  }

  /** Judges these soaks, open ones of trackers heard, by other limits. */
  void judgeAgain(LimitsUpdate update, List<Soak> soaks) {
    for (Soak soak : soaks) {
      long heardAtUs = byTracker.get(soak.tracker()).heardAtUs();
      byTracker.put(soak.tracker(), update.judgedAgain(soak, heardAtUs));
    }
  }

  /** Closes all seconds and judges them, as if two more seconds had passed. */
  void finish(PendingWrites out) {
    for (TrackerWatch watch : byTracker.values()) {
      watch.closeBefore(Long.MAX_VALUE, out);
      watch.run().ifPresent(run -> finish(run, out));
    }
  }

  private static void finish(SoakRun run, PendingWrites out) {
    run.flush(out);
    out.summary(run.summary(run.last().lastUs(), false));
  }
}
