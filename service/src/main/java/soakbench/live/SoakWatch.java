package soakbench.live;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ConcurrentSkipListMap;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.function.UnaryOperator;
import soakbench.model.Limits;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.readiness.Readiness;

/**
 * Watches all trackers in event time: cuts soaks, makes bins, judges, and stores it all, samples
 * and what follows from them in one unit of work. One thread at a time writes; verdicts can be read
 * from any thread.
 */
public final class SoakWatch implements Sink {
  private static final long REDERIVE_EVERY_US = 5_000_000L;
  private static final long ROSTER_EVERY_US = 60_000_000L;

  private final SoakStore store;
  private final EventClock clock;
  private volatile RatesTold rates = RatesTold.NOTHING;

  /** Trackers keep this one, whoever is asked behind it. */
  private final RatesTold told = tracker -> rates.of(tracker);

  private final Map<String, TrackerWatch> watches = new HashMap<>();
  private final Map<String, Readiness> verdicts = new ConcurrentSkipListMap<>();
  private final List<Listener> listeners = new CopyOnWriteArrayList<>();
  private final EarlierSoaks earlier;
  private final Map<String, Long> rederivedAtUs = new HashMap<>();

  /** Limits given at the start; null where none were, or they are in the history already. */
  private Limits given;

  private final boolean givenLimits;

  /** Those in force for soaks that begin now. */
  private volatile Limits limits;

  /** When the live clock last had the roster read. */
  private long rosterReadUs;

  /** Whether what is in memory may not be what is stored; so it is until the first restore. */
  private boolean memoryAhead = true;

  /**
   * A watch over an empty or already filled store; what is in it is taken up by {@link #restore},
   * or by itself before the first sample.
   *
   * @param given limits for soaks that begin from now on; null to go on with those that the store
   *     knows, at first the defaults. A soak under way keeps its own
   * @param clock what the time would be by now; a replay gives a clock that stands still
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
  }

  /** Takes up where the store was left: judges the open soaks again from their bins. */
  public synchronized void restore() {
    memoryAhead = true;
    watches.clear();
    try (SoakStore.Unit unit = store.begin()) {
      limits = LimitsAtStart.in(unit, given, clock.nowUs()).limits();
      unit.adoptTerms(SoakTerms.of(limits));
      earlier.read(unit);
      for (Soak soak : unit.lastSoaks()) {
        TrackerWatch watch = new Restoration(unit, this::termsNow, earlier, told).of(soak);
        watch.heardAt(clock.nowUs());
        watches.put(soak.tracker(), watch);
      }
      for (String tracker : unit.staleTrackers()) {
        rederive(unit, tracker);
      }
      unit.commit();
    }
    memoryAhead = false;
    given = null;
    // Never cleared: who asks meanwhile must not find the rack empty.
    verdicts.keySet().retainAll(watches.keySet());
    publish(watches.keySet());
  }

  @Override
  public synchronized Outcome accept(List<Sample> samples) {
    restoreIfAhead();
    List<Sample> inOrder = new ArrayList<>(samples);
    inOrder.sort(Comparator.comparingLong(Sample::timeUs));
    Set<String> touched = new LinkedHashSet<>();
    memoryAhead = true;
    SoakStore.Written written;
    try (SoakStore.Unit unit = store.begin()) {
      written = unit.writeSamples(inOrder);
      Derived out = new Derived(earlier);
      for (Sample s : written.fresh()) {
        touched.add(s.tracker());
        take(unit, s, out);
      }
      out.write(unit);
      unit.commit();
    }
    memoryAhead = false;
    publish(touched);
    return new Outcome(written.fresh().size(), written.duplicate(), written.conflicting());
  }

  /** What a soak that begins now is judged by. */
  private SoakTerms termsNow(String tracker, long startUs) {
    return new SoakTerms(limits, earlier.prior(tracker, startUs));
  }

  private void take(SoakStore.Unit unit, Sample sample, Derived out) {
    TrackerWatch watch = watches.get(sample.tracker());
    if (watch == null) {
      watch = new TrackerWatch(sample.tracker(), this::termsNow, earlier, told);
      watches.put(sample.tracker(), watch);
    }
    boolean late = watch.late(sample);
    watch.heard(sample, clock.nowUs());
    if (late) {
      unit.markStale(sample.tracker(), sample.second());
      return;
    }
    boolean first = watch.closedSecond() == Long.MIN_VALUE;
    if (first && watch.oldestOpen(sample)) {
      // Until its first second closes it has no soak to find it by after a crash.
      unit.markStale(sample.tracker(), sample.second());
    }
    watch.accept(sample, out);
    if (first && watch.closedSecond() != Long.MIN_VALUE) {
      unit.clearStale(sample.tracker());
    }
  }

  /**
   * Lets time pass without samples: closes the last bins, notices silence, and derives again what
   * late samples made out of date. Called about once a second by a live service, never by a replay.
   */
  public synchronized void tick() {
    restoreIfAhead();
    long nowUs = clock.nowUs();
    memoryAhead = true;
    Set<String> touched = new LinkedHashSet<>();
    try (SoakStore.Unit unit = store.begin()) {
      if (nowUs - rosterReadUs >= ROSTER_EVERY_US) {
        earlier.readBenches(unit);
        rosterReadUs = nowUs;
      }
      for (TrackerWatch watch : watches.values()) {
        Derived out = new Derived(earlier);
        boolean first = watch.closedSecond() == Long.MIN_VALUE;
        watch.tick(nowUs, out);
        if (!out.nothing()) {
          out.write(unit);
          touched.add(watch.tracker());
        }
        if (first && watch.closedSecond() != Long.MIN_VALUE) {
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
      unit.commit();
    }
    memoryAhead = false;
    publish(touched);
  }

  /**
   * The mark that only stands for a first second still open is no reason to derive anything again.
   */
  private boolean derivable(String tracker) {
    TrackerWatch watch = watches.get(tracker);
    return watch == null || watch.closedSecond() != Long.MIN_VALUE;
  }

  /**
   * Derives again at once whatever late samples made out of date; for a replay, after its last
   * sample.
   */
  public synchronized void settle() {
    restoreIfAhead();
    memoryAhead = true;
    List<String> stale;
    try (SoakStore.Unit unit = store.begin()) {
      stale = unit.staleTrackers();
      for (String tracker : stale) {
        rederive(unit, tracker);
      }
      unit.commit();
    }
    memoryAhead = false;
    publish(stale);
  }

  /** Before the first work, and after a failure of the store. */
  private void restoreIfAhead() {
    if (memoryAhead) {
      restore();
    }
  }

  private void rederive(SoakStore.Unit unit, String tracker) {
    Optional<Long> from = unit.staleFrom(tracker);
    if (from.isPresent()) {
      TrackerWatch known = watches.get(tracker);
      long nowUs = clock.nowUs();
      long heardAtUs = known == null ? nowUs : known.heardAtUs();
      TrackerWatch watch =
          new Rederivation(unit, this::termsNow, earlier, told)
              .of(tracker, from.get(), heardAtUs, nowUs);
      watches.put(tracker, watch);
      if (watch.closedSecond() != Long.MIN_VALUE) {
        unit.clearStale(tracker);
      }
    }
  }

  /**
   * Closes all seconds and judges them, as if two more seconds had passed; for a replay, after its
   * last sample.
   */
  public synchronized void finish() {
    settle();
    memoryAhead = true;
    try (SoakStore.Unit unit = store.begin()) {
      Derived out = new Derived(earlier);
      for (TrackerWatch watch : watches.values()) {
        watch.closeBefore(Long.MAX_VALUE, out);
        watch.run().ifPresent(run -> finish(run, out));
      }
      out.write(unit);
      unit.commit();
    }
    memoryAhead = false;
    publish(watches.keySet());
  }

  private static void finish(SoakRun run, Derived out) {
    run.flush(out);
    out.summary(run.summary(run.last().lastUs(), false));
  }

  /**
   * Ends an open soak because the tracker was taken off; the next sample begins another.
   *
   * @return the ended soak, or empty where no open soak has this id
   */
  public synchronized Optional<Soak> end(String soak) {
    restoreIfAhead();
    for (TrackerWatch watch : watches.values()) {
      if (watch.run().filter(run -> run.id().equals(soak)).isPresent()) {
        memoryAhead = true;
        Derived out = new Derived(earlier);
        watch.takeOff(out);
        try (SoakStore.Unit unit = store.begin()) {
          out.write(unit);
          unit.commit();
        }
        memoryAhead = false;
        publish(List.of(watch.tracker()));
        return Optional.ofNullable(out.soaks.get(soak));
      }
    }
    return Optional.empty();
  }

  /**
   * Changes the limits in force.
   *
   * @param change makes the new limits of those in force; what it throws changes nothing
   * @param now whether soaks under way that were judged by others are judged again; else the new
   *     limits hold for soaks that begin from now on
   * @param dryRun only tells what would happen
   */
  public synchronized LimitsOutcome change(
      UnaryOperator<Limits> change, boolean now, boolean dryRun) {
    restoreIfAhead();
    Limits before = limits;
    Limits after = change.apply(before);
    memoryAhead = !dryRun;
    List<Soak> again;
    Long sinceUs = null;
    try (SoakStore.Unit unit = store.begin()) {
      LimitsTurn turn = new LimitsTurn(unit, earlier, told, clock.nowUs());
      again = now ? turn.judgedByOthers(after) : List.of();
      if (!dryRun) {
        sinceUs = turn.write(before, after);
        turn.judgeAgain(again, after, watches, this::termsNow);
        unit.commit();
        limits = after;
      }
    }
    memoryAhead = false;
    if (!dryRun) {
      publish(again.stream().map(Soak::tracker).toList());
    }
    return new LimitsOutcome(before, after, sinceUs, again.stream().map(Soak::id).toList());
  }

  private void publish(Iterable<String> trackers) {
    Map<String, Readiness> news = new LinkedHashMap<>();
    for (String tracker : trackers) {
      Optional<Readiness> newest = watches.get(tracker).newest();
      if (newest.isEmpty()) {
        verdicts.remove(tracker);
      } else if (newest.get() != verdicts.put(tracker, newest.get())) {
        news.put(tracker, newest.get());
      }
    }
    if (!news.isEmpty()) {
      List<Readiness> list = List.copyOf(news.values());
      listeners.forEach(l -> l.judged(list));
    }
  }

  /** The newest verdict of every tracker with an open soak, by tracker id. */
  public List<Readiness> readiness() {
    return List.copyOf(verdicts.values());
  }

  public Optional<Readiness> readiness(String tracker) {
    return Optional.ofNullable(verdicts.get(tracker));
  }

  public void subscribe(Listener listener) {
    listeners.add(listener);
  }

  /** Whether limits were given at the start. */
  public boolean givenLimits() {
    return givenLimits;
  }

  /** Says whom to ask what users say of the trackers' rates: nobody at first, then for good. */
  public void askAboutRates(RatesTold whom) {
    if (rates == RatesTold.NOTHING) {
      rates = whom;
    }
  }

  /** What users say of a tracker's rates. */
  public RatesTold ratesTold() {
    return told;
  }

  /** The limits in force for soaks that begin now. */
  public Limits limits() {
    return limits;
  }
}
