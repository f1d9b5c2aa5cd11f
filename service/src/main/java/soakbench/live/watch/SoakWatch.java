package soakbench.live.watch;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Set;
import java.util.concurrent.Executor;
import java.util.function.Function;
import java.util.function.Predicate;
import java.util.function.Supplier;
import java.util.function.UnaryOperator;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.live.EventClock;
import soakbench.live.ImportedStretch;
import soakbench.live.LimitsOutcome;
import soakbench.live.Listener;
import soakbench.live.Liveness;
import soakbench.live.RestoreProgress;
import soakbench.live.RosterRates;
import soakbench.live.SampleSink;
import soakbench.live.SoakStore;
import soakbench.live.SoakSummary;
import soakbench.live.StoreException;
import soakbench.model.Bin;
import soakbench.model.Limits;
import soakbench.model.LimitsChange;
import soakbench.model.RackSet;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.readiness.Readiness;

/**
 * Watches all trackers in event time: cuts soaks, makes bins, judges, and stores samples and what
 * follows from them in one unit of work. One thread at a time writes; verdicts can be read from any
 * thread.
 */
public final class SoakWatch implements SampleSink {
  private static final Logger LOG = LoggerFactory.getLogger(SoakWatch.class);
  private static final long ROSTER_EVERY_US = 60_000_000L;

  /** In place of an import. */
  private static final long LIVE = 0;

  private final SoakStore store;
  private final EventClock clock;
  private volatile RosterRates rates = RosterRates.NOTHING;

  private final OwnTrackers own = new OwnTrackers();
  private final EarlierSoaks earlier;
  private final SoakContext context;
  private final TrackerWatches watches;
  private final Verdicts verdicts = new Verdicts();

  /** Limits given at the start; null where none were, or they are in the history already. */
  private Limits given;

  private final boolean givenLimits;

  /** By which name judges are kept; null where they are not. */
  private volatile String program;

  /** Those in force for soaks that begin now. */
  private volatile Limits limits;

  private volatile Executor deriving = Runnable::run;

  /** What another program stores, while this one only reads; null else, and after a failure. */
  private StoreFollower follower;

  /** By which limits others had all soaks under way judged, once that is done here. */
  private Optional<LimitsChange> judgedBy = Optional.empty();

  /** When the live clock last had the roster read. */
  private long rosterReadUs;

  /** Whether what is in memory may not be what is stored; so it is until the first restore. */
  private boolean memoryAhead = true;

  /**
   * A watch over an empty or already filled store; what is in it is restored by {@link #restore},
   * or by itself before the first sample.
   *
   * @param given limits for soaks that begin from now on; null to go on with those that the store
   *     knows, at first the defaults. A soak under way keeps its own
   * @param clock the live clock; a replay gives a clock that stands still
   */
  public SoakWatch(SoakStore store, Limits given, EventClock clock) {
    this(store, given, clock, List.of());
  }

  /**
   * The same for a replay that knows soaks of other recordings.
   *
   * @param earlier soaks that the store does not know
   */
  public SoakWatch(SoakStore store, Limits given, EventClock clock, List<SoakSummary> earlier) {
    this.store = store;
    this.given = given;
    this.givenLimits = given != null;
    this.limits = given == null ? Limits.DEFAULT : given;
    this.clock = clock;
    this.earlier = new EarlierSoaks(earlier);
    // Read anew each time: the roster is set after the first trackers.
    this.context =
        new SoakContext(
            new TermsSource.InForce(() -> limits, this.earlier),
            this.earlier,
            (tracker, second) -> rates.of(tracker),
            () -> program);
    this.watches = new TrackerWatches(context, clock, own);
  }

  /** Restores the state from the store: judges the open soaks again from their bins. */
  public void restore() {
    restore(RestoreProgress.UNHEARD);
  }

  /**
   * The same.
   *
   * @param heard receives the progress
   */
  public synchronized void restore(RestoreProgress heard) {
    follower = null;
    judgedBy = Optional.empty();
    inUnit(
        unit -> {
          limits = LimitsAtStart.in(unit, given, clock.nowUs()).limits();
          unit.adoptTerms(SoakTerms.of(limits));
          earlier.read(unit);
          watches.restore(unit, heard);
          return null;
        });
    given = null;
    verdicts.keepOnly(watches.trackers());
    verdicts.publish(watches.all());
  }

  /**
   * Judges what another program stores and writes nothing itself; to be called about once a second,
   * until {@link #restore} makes this one the writer.
   *
   * @throws StoreException if the store does not answer; the verdicts stay as they were
   */
  public void follow() {
    follow(tracker -> false);
  }

  /**
   * The same.
   *
   * @param again of which trackers something was judged again since the last call
   */
  public synchronized void follow(Predicate<String> again) {
    long nowUs = clock.runningUs();
    List<TrackerWatch> touched;
    StoreFollower reading = follower == null ? new StoreFollower(context) : follower;
    follower = null;
    try (SoakStore.Unit unit = store.beginReading()) {
      unit.newestLimits().ifPresent(newest -> limits = newest.limits());
      if (nowUs - rosterReadUs >= ROSTER_EVERY_US) {
        earlier.read(unit);
        rosterReadUs = nowUs;
      }
      touched = reading.poll(unit, nowUs, again);
    }
    follower = reading;
    verdicts.keepOnly(reading.trackers());
    verdicts.publish(touched);
  }

  @Override
  public Outcome accept(List<Sample> samples) {
    return accept(samples, LIVE);
  }

  /**
   * Takes samples of recordings that people bring in: what comes late of them says nothing of a
   * clock, and all that is new is noted, so that it can be taken out again.
   *
   * @param imported by which import, from 1
   * @throws StoreException as {@link #accept(List)}
   */
  public synchronized Outcome accept(List<Sample> samples, long imported) {
    restoreIfAhead();
    List<Sample> inOrder = new ArrayList<>(samples);
    inOrder.sort(Comparator.comparingLong(Sample::timeUs));
    Set<String> touched = new LinkedHashSet<>();
    SoakStore.Written written =
        inUnit(
            unit -> {
              if (own.only(inOrder).size() < inOrder.size()) {
                return null;
              }
              SoakStore.Written now = unit.writeSamples(inOrder);
              PendingWrites out = context.nothingYet();
              now.fresh().forEach(s -> touched.add(s.tracker()));
              boolean recorded = imported != LIVE;
              touched.addAll(watches.take(unit, inOrder, now.fresh(), recorded, out));
              out.write(unit);
              if (recorded) {
                unit.noteImported(imported, now.fresh());
              }
              return now;
            });
    if (written == null) {
      throw new StoreException(
          "a tracker was moved to a rack for which this service does not write; send it again, and"
              + " its lines are told apart",
          null,
          true);
    }
    publish(touched);
    return new Outcome(written.fresh().size(), written.duplicate(), written.conflicting());
  }

  /**
   * Sets for which racks this one writes; at first for all. To be called before the first sample.
   * Then soaks of other trackers are not watched, and samples of theirs are not taken.
   */
  public void writesFor(RackSet racks) {
    own.writesFor(racks);
  }

  /** Whether this one writes for a tracker, as the roster stood in the last unit of work. */
  public boolean writesFor(String tracker) {
    return own.has(tracker);
  }

  /**
   * The periodic tick: closes the last bins and detects silence without samples; then has derived
   * again what late samples made out of date. Called about once a second by a live service, never
   * by a replay.
   */
  public void tick() {
    pass();
    deriving.execute(this::deriveOutdated);
  }

  private synchronized void pass() {
    restoreIfAhead();
    long nowUs = clock.runningUs();
    publish(
        inUnit(
            unit -> {
              if (nowUs - rosterReadUs >= ROSTER_EVERY_US) {
                earlier.readTold(unit);
                rosterReadUs = nowUs;
              }
              Set<String> touched = new LinkedHashSet<>(readLimits(unit));
              touched.addAll(watches.tick(unit, nowUs));
              watches.keepDue(unit);
              return touched;
            }));
  }

  /**
   * Who writes for other racks may have changed the limits. Where that was for soaks under way as
   * well, those here are judged again; returns their trackers.
   */
  private List<String> readLimits(SoakStore.Unit unit) {
    Optional<LimitsChange> newest = own.all() ? Optional.empty() : unit.newestLimits();
    if (newest.isEmpty()) {
      return List.of();
    }
    limits = newest.get().limits();
    if (newest.equals(judgedBy) || !unit.areLimitsForSoaks()) {
      return List.of();
    }
    LimitsUpdate update = new LimitsUpdate(unit, context, limits, clock);
    List<Soak> again = watches.own(update.judgedByOthers());
    watches.judgeAgain(update, again);
    judgedBy = newest;
    return again.stream().map(Soak::tracker).toList();
  }

  /**
   * Sets what executes the derivation of late samples, beside the writing of samples: at first the
   * thread of the tick. Its tasks must not run two at a time.
   */
  public void deriveWith(Executor who) {
    deriving = work -> who.execute(() -> logFailure(work));
  }

  private static void logFailure(Runnable work) {
    try {
      work.run();
    } catch (StoreException away) {
      // Logged by the periodic work; what is marked is derived when the store is back.
      LOG.debug("late samples wait: {}", away.getMessage());
    } catch (RuntimeException e) {
      LOG.error("a mistake of the program while late samples were worked in", e);
    }
  }

  /** Derives some trackers again that are due; holds the lock only to begin and to write. */
  private void deriveOutdated() {
    for (Optional<RederivationJob> due = nextDue(); due.isPresent(); due = nextDue()) {
      derive(due.get());
    }
  }

  private void derive(RederivationJob job) {
    try (SoakStore.Reader reader = store.reader()) {
      place(job, job.derive(reader, bins -> keep(job, bins)));
    } finally {
      done(job);
    }
  }

  private synchronized Optional<RederivationJob> nextDue() {
    return memoryAhead ? Optional.empty() : watches.next();
  }

  private synchronized void keep(RederivationJob job, List<Bin> bins) {
    if (!memoryAhead) {
      inUnit(
          unit -> {
            // Asked here: as the unit began, the tracker may have been found to be moved.
            if (watches.stands(job)) {
              watches.keep(unit, job, bins);
            }
            return null;
          });
    }
  }

  private synchronized void place(RederivationJob job, RederivedSoaks derived) {
    if (!memoryAhead) {
      inUnit(unit -> watches.place(unit, job, derived));
      publish(List.of(job.tracker()));
    }
  }

  private synchronized void done(RederivationJob job) {
    watches.done(job);
  }

  /**
   * Derives again at once whatever late samples made out of date; for a replay, after its last
   * sample.
   */
  public synchronized void settle() {
    restoreIfAhead();
    publish(inUnit(watches::rederive));
  }

  /** The summary of a soak was derived anew. */
  public synchronized void relearn(SoakSummary summary) {
    earlier.put(summary);
  }

  /** Reads anew what later soaks use of earlier ones: people left one out, or took it in again. */
  public synchronized void readEarlier() {
    restoreIfAhead();
    inUnit(
        unit -> {
          earlier.read(unit);
          return null;
        });
  }

  /**
   * Takes the samples of an import out again, a soak's at a time: what else is stored of its
   * tracker is derived again without them. To be called until nothing is left; those of trackers
   * for which another service writes are left to that one.
   *
   * @return how many samples were taken out; empty where nothing was left
   */
  public synchronized OptionalLong takeOut(long imported) {
    restoreIfAhead();
    record Taken(String tracker, long samples) {}
    Optional<Taken> taken =
        inUnit(
            unit ->
                own(unit, imported)
                    .map(its -> new Taken(its.tracker(), watches.takeOut(unit, imported, its))));
    verdicts.keepOnly(watches.trackers());
    taken.ifPresent(one -> publish(List.of(one.tracker())));
    return taken.isEmpty() ? OptionalLong.empty() : OptionalLong.of(taken.get().samples());
  }

  /** The next of an import that is of a tracker for which this one writes. */
  private Optional<ImportedStretch> own(SoakStore.Unit unit, long imported) {
    Optional<ImportedStretch> next = unit.nextImported(imported, "");
    while (next.isPresent() && !own.has(next.get().tracker())) {
      next = unit.nextImported(imported, next.get().tracker());
    }
    return next;
  }

  /**
   * Begins to give the samples of a tracker to another.
   *
   * @return what does so; empty where the tracker is heard now
   * @throws StoreException if this one does not write for both
   */
  public synchronized Optional<Merging> merge(String tracker, String into) {
    restoreIfAhead();
    if (watches.isLive(tracker)) {
      return Optional.empty();
    }
    List<Soak> soaks =
        inUnit(
            unit -> {
              refuseOthers(tracker, into);
              return watches.finishOff(unit, tracker);
            });
    verdicts.keepOnly(watches.trackers());
    return Optional.of(new Merging(tracker, into, soaks));
  }

  /**
   * Gives the samples of the next soak to the other tracker; to be called until it is done.
   *
   * @return how many; empty where it is done
   */
  public synchronized Optional<SoakStore.Moved> mergeNext(Merging merging) {
    restoreIfAhead();
    Optional<SoakStore.Moved> moved =
        inUnit(
            unit -> {
              refuseOthers(merging.tracker(), merging.into());
              return merging.next(unit, watches);
            });
    if (moved.isPresent()) {
      publish(List.of(merging.into()));
    } else {
      readEarlier();
    }
    return moved;
  }

  private void refuseOthers(String... trackers) {
    for (String tracker : trackers) {
      if (!own.has(tracker)) {
        throw new StoreException(
            tracker
                + " was moved to a rack for which this service does not write; merge the rest"
                + " there",
            null,
            false);
      }
    }
  }

  /**
   * Begins to keep the judges of soaks that go on in the store, now and then, so that a restart
   * takes them up and judges only what came since. Until then none is kept or taken up.
   *
   * @param program names a program that judges the same seconds alike, to the digit
   */
  public void keepJudges(String program) {
    this.program = program;
  }

  /**
   * Keeps the judges as they stand, for a restart that is to come; nothing where the state in
   * memory is not sure to be what is stored.
   */
  public synchronized void keepNow() {
    if (!store.othersMayHaveWritten() && !memoryAhead) {
      while (inUnit(watches::keepMore)) {
        LOG.debug("some judges are kept");
      }
    }
  }

  /** Runs work, which must be short, while nothing of this one's samples is written. */
  public synchronized <T> T alone(Supplier<T> work) {
    return work.get();
  }

  /** Before the first work, after a failure of the store, and where another may have written. */
  private void restoreIfAhead() {
    if (store.othersMayHaveWritten() || memoryAhead) {
      restore();
    }
  }

  /**
   * Closes all seconds and judges them, as if two more seconds had passed; for a replay, after its
   * last sample.
   */
  public synchronized void finish() {
    settle();
    inUnit(
        unit -> {
          PendingWrites out = context.nothingYet();
          watches.finish(out);
          out.write(unit);
          return null;
        });
    verdicts.publish(watches.all());
  }

  /**
   * Ends an open soak because the tracker was taken off; the next sample begins another.
   *
   * @return the ended soak, whose id is another one where samples that had come late begin it;
   *     empty where no open soak has this id
   */
  public synchronized Optional<Soak> end(String soak) {
    restoreIfAhead();
    return watches.withOpen(soak).map(TrackerWatch::tracker).flatMap(this::takeOff);
  }

  private Optional<Soak> takeOff(String tracker) {
    Optional<Soak> ended = inUnit(unit -> watches.takeOff(unit, tracker));
    publish(List.of(tracker));
    return ended;
  }

  /** Runs work in a unit of its own; where that fails, the state in memory is no longer sure. */
  private <T> T inUnit(Function<SoakStore.Unit, T> work) {
    boolean restored = !memoryAhead;
    memoryAhead = true;
    T done;
    try (SoakStore.Unit unit = store.begin()) {
      Optional<Set<String>> came = own.read(unit);
      if (restored) {
        takeUp(unit, came);
      }
      done = work.apply(unit);
      unit.commit();
    }
    memoryAhead = false;
    return done;
  }

  /** Trackers may have been moved between this one's racks and others'. */
  private void takeUp(SoakStore.Unit unit, Optional<Set<String>> came) {
    if (came.isEmpty()) {
      judgedBy = Optional.empty();
      earlier.read(unit);
      watches.restore(unit, RestoreProgress.UNHEARD);
      verdicts.keepOnly(watches.trackers());
      verdicts.publish(watches.all());
    } else if (watches.keepOwn() || !came.get().isEmpty()) {
      // A soak that came may have been under way elsewhere when limits were put for all of them.
      judgedBy = Optional.empty();
      earlier.read(unit);
      came.get().forEach(tracker -> watches.takeUp(unit, tracker));
      verdicts.keepOnly(watches.trackers());
      publish(came.get());
    }
  }

  /**
   * Changes the limits in force.
   *
   * @param change makes the new limits of those in force; what it throws changes nothing
   * @param now whether soaks under way that were judged by others are judged again; else the new
   *     limits hold for soaks that begin from now on
   * @param dryRun only reports what would happen
   */
  public synchronized LimitsOutcome change(
      UnaryOperator<Limits> change, boolean now, boolean dryRun) {
    restoreIfAhead();
    if (!own.all()) {
      // So that this one knows what others have changed and moved by now.
      inUnit(
          unit -> {
            readLimits(unit);
            return null;
          });
    }
    Limits before = limits;
    Limits after = change.apply(before);
    memoryAhead = !dryRun;
    List<Soak> all;
    Long sinceUs = null;
    try (SoakStore.Unit unit = store.begin()) {
      refuseIfChanged(unit, before);
      if (now && !dryRun) {
        // What is judged again must not take over a silence that late samples contradict.
        watches.rederiveOpen(unit);
      }
      LimitsUpdate update = new LimitsUpdate(unit, context, after, clock);
      all = now ? update.judgedByOthers() : List.of();
      if (!dryRun) {
        sinceUs = update.write(before, now);
        watches.judgeAgain(update, watches.own(all));
        unit.commit();
        limits = after;
      }
    }
    memoryAhead = false;
    List<Soak> again = watches.own(all);
    if (!dryRun) {
      publish(again.stream().map(Soak::tracker).toList());
    }
    return new LimitsOutcome(
        before,
        after,
        sinceUs,
        again.stream().map(Soak::id).toList(),
        all.stream().filter(soak -> !again.contains(soak)).map(Soak::id).toList());
  }

  /** What was to be changed must not be put over what another service put a moment before. */
  private void refuseIfChanged(SoakStore.Unit unit, Limits before) {
    if (own.all()) {
      return;
    }
    boolean placed = own.isUpToDate(unit);
    unit.holdLimits();
    if (!placed
        || unit.newestLimits().filter(newest -> !newest.limits().equals(before)).isPresent()) {
      throw new StoreException(
          "limits or a tracker's rack were changed at the same moment by another; look at the"
              + " limits and try again",
          null,
          true);
    }
  }

  private void publish(Iterable<String> trackers) {
    verdicts.publish(watches.of(trackers));
  }

  /** The newest verdict of every tracker with an open soak, by tracker id. */
  public List<Readiness> readiness() {
    return verdicts.all();
  }

  public Optional<Readiness> readiness(String tracker) {
    return verdicts.of(tracker);
  }

  /** Whether a soak of this tracker has begun that has no verdict yet. */
  public boolean isBeginning(String tracker) {
    return verdicts.isBeginning(tracker);
  }

  public void subscribe(Listener listener) {
    verdicts.subscribe(listener);
  }

  /** Whether limits were given at the start. */
  public boolean givenLimits() {
    return givenLimits;
  }

  /** Sets where the trackers' rates are declared: at first, nowhere. */
  public void useRates(RosterRates source) {
    rates = source;
  }

  /** Sets what knows which trackers are live: at first, all are. */
  public void useLiveness(Liveness source) {
    watches.useLiveness(source);
  }

  /** What the roster declares of the trackers' rates. */
  public RosterRates rosterRates() {
    return tracker -> rates.of(tracker);
  }

  /** The limits in force for soaks that begin now. */
  public Limits limits() {
    return limits;
  }
}
