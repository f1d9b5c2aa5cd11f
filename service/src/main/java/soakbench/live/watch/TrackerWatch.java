package soakbench.live.watch;

import java.io.Serializable;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import soakbench.live.StaleRange;
import soakbench.model.Bin;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.model.Soak.End;
import soakbench.readiness.Readiness;

/**
 * One tracker in event time: collects samples into seconds, closes a second when a sample two
 * seconds newer is seen, cuts soaks and passes the bins to the soak's judge. Not thread-safe.
 */
final class TrackerWatch {
  private static final int CLOSE_AFTER_S = 2;

  /** A recording of which nothing more came for so long has ended. */
  private static final long RECORDING_ENDS_US = 10_000_000L;

  private final String tracker;
  private final SoakContext context;
  private final SoakCutter cutter = new SoakCutter();
  private final TreeMap<Long, OpenBin> open = new TreeMap<>();
  private RebootDetector boots = new RebootDetector();
  private SoakRun run;
  private long samples;
  private int boot;
  private long newestUs = Long.MIN_VALUE;
  private long heardAtUs;
  private End ended;
  private final ClockStepDetector clockStep = new ClockStepDetector();
  private int cuts;

  /** Seconds that soaks recorded before a clock was set back; null where there are none. */
  private StaleRange ahead;

  private long apartSecond = Long.MIN_VALUE;

  /** The newest second of the open soak when its judge was kept, or its first. */
  private long keptSecond;

  /**
   * What is kept of an open soak.
   *
   * @param temperatureC the newest that was heard in it, degC; NaN where none was
   */
  record Kept(SoakRun run, double temperatureC) implements Serializable {}

  TrackerWatch(String tracker, SoakContext context) {
    this.tracker = tracker;
    this.context = context;
  }

  String tracker() {
    return tracker;
  }

  /**
   * Whether the sample's second is closed already, or silence was noted over its time, so that what
   * was derived is out of date.
   */
  boolean late(Sample sample) {
    return sample.second() <= Math.max(cutter.second(), apartSecond)
        || contradictsSilence(sample)
        || ahead != null && ahead.holds(sample.second()) && !near(sample);
  }

  /** Whether it may be the next of a live stream. */
  private boolean near(Sample sample) {
    return run != null && sample.timeUs() - newestUs <= SoakCutter.SILENCE_ENDS_US;
  }

  /** Whether it goes on over seconds that another soak has recorded: it is only judged. */
  boolean apart(Sample sample) {
    return ahead != null && ahead.holds(sample.second());
  }

  /** Takes the soaks of times that the tracker's clock, which was set back, has yet to reach. */
  void passes(List<Soak> later) {
    ahead =
        later.stream()
            .map(s -> new StaleRange(s.startSecond(), s.endSecond()))
            .reduce(StaleRange::and)
            .orElse(null);
  }

  /** Passes the same ones as another watch of the tracker. */
  void passesAs(TrackerWatch other) {
    ahead = other.ahead;
  }

  /**
   * What of late seconds is its own, and what belongs to soaks that are still ahead, or lies beyond
   * them; none is empty.
   */
  List<StaleRange> parts(StaleRange late) {
    if (ahead == null || late.toSecond() < ahead.fromSecond() || isAhead(late)) {
      return List.of(late);
    }
    return List.of(
        new StaleRange(late.fromSecond(), ahead.fromSecond() - 1),
        new StaleRange(ahead.fromSecond(), late.toSecond()));
  }

  /** Whether these seconds are those of soaks that are still ahead, or lie beyond them. */
  boolean isAhead(StaleRange late) {
    return ahead != null && late.fromSecond() >= ahead.fromSecond();
  }

  /** Whether this second lies beyond the soaks that were ahead up to it. */
  private boolean beyond(long second) {
    return ahead != null && second > ahead.toSecond();
  }

  /** Before when its next samples lie. */
  long aheadUntilUs() {
    return ahead == null ? Long.MAX_VALUE : ahead.fromSecond() * 1_000_000L;
  }

  /** A live clock may have noted silence while the samples were only delayed. */
  private boolean contradictsSilence(Sample sample) {
    if (beyond(sample.second())) {
      return false;
    }
    return run == null
        ? ended == End.SILENCE && sample.timeUs() - cutter.lastUs() <= SoakCutter.SILENCE_ENDS_US
        : run.silent() && sample.timeUs() <= run.silentFromUs();
  }

  /** Whether it is older than everything that waits for its second to close. */
  boolean oldestOpen(Sample sample) {
    return open.isEmpty() || sample.second() < open.firstKey();
  }

  /** Takes a sample that is not late. */
  void accept(Sample sample, PendingWrites out) {
    open.computeIfAbsent(sample.second(), s -> new OpenBin(tracker, s)).add(sample);
    newestUs = Math.max(newestUs, sample.timeUs());
    closeBefore(Math.floorDiv(newestUs, 1_000_000L) - CLOSE_AFTER_S + 1, out);
  }

  /** Closes all seconds before this one. */
  void closeBefore(long second, PendingWrites out) {
    while (!open.isEmpty() && open.firstKey() < second) {
      Map.Entry<Long, OpenBin> first = open.pollFirstEntry();
      OpenBin bin = first.getValue();
      if (ahead != null && ahead.holds(first.getKey())) {
        judgeApart(bin);
        continue;
      }
      if (beyond(first.getKey())) {
        end(End.CLOCK_SET, out);
        ahead = null;
        apartSecond = Long.MIN_VALUE;
      }
      boolean rebooted = false;
      for (Sample s : bin.inOrder()) {
        rebooted |= boots.rebooted(s);
      }
      out.bins.add(place(bin.close(0), bin.size(), rebooted, out));
    }
  }

  /** Its second belongs to another soak, so that nothing of it is kept but the verdict. */
  private void judgeApart(OpenBin bin) {
    Bin closed = bin.close(boot);
    apartSecond = closed.second();
    if (run != null) {
      run.accept(closed, new PendingWrites());
    }
  }

  /**
   * Takes the next second, its reboots not yet counted, cutting the soak before it where it ends.
   *
   * @return it with its reboots counted
   */
  Bin place(Bin bin, long count, boolean rebooted, PendingWrites out) {
    boolean begins = begins(bin, rebooted);
    Bin placed = bin.withBoot(begins ? 0 : boot + (rebooted ? 1 : 0));
    endBefore(bin, rebooted, out);
    take(placed, count, out);
    return placed;
  }

  /** Whether a soak begins with this second, should it be the next. */
  boolean begins(Bin next, boolean rebooted) {
    return run == null || cutter.before(next, rebooted) != null;
  }

  /** Ends the open soak where the next second belongs to another. */
  void endBefore(Bin next, boolean rebooted, PendingWrites out) {
    End end = run == null ? null : cutter.before(next, rebooted);
    if (end != null) {
      end(end, next.firstUs(), out);
    }
  }

  /** Takes a bin that is made already: from closing a second, or from the store. */
  private void take(Bin bin, long count, PendingWrites out) {
    if (run == null) {
      run = context.begin(tracker, bin.firstUs());
      keptSecond = bin.second();
      cuts++;
      samples = 0;
    }
    boot = bin.boot();
    samples += count;
    cutter.heard(bin);
    newestUs = Math.max(newestUs, bin.lastUs());
    run.accept(bin, out);
    out.soak(run.soak(cutter.lastUs(), samples, null));
  }

  /** Takes a stored bin, cutting soaks as its samples did. */
  void replay(Bin bin, long count, PendingWrites out) {
    endBefore(bin, run != null && bin.boot() != boot, out);
    take(bin, count, out);
  }

  /** Takes up a soak whose judge was kept. */
  void resume(Kept kept) {
    run = kept.run();
    cuts++;
    boot = run.last().boot();
    newestUs = run.last().lastUs();
    cutter.resumed(run.last(), kept.temperatureC());
    noteKept();
  }

  /** What is to be kept of the open soak. */
  Kept keep() {
    return new Kept(run, cutter.temperatureC());
  }

  SoakContext context() {
    return context;
  }

  /** Notes that the open soak's judge is kept as it stands. */
  void noteKept() {
    keptSecond = cutter.second();
  }

  /**
   * How much of the open soak was judged since its judge was kept, s; 0 where its judge would not
   * be what follows from its stored seconds.
   */
  long secondsSinceKept() {
    return run == null || ahead != null ? 0 : cutter.second() - keptSecond;
  }

  /** Whether nothing was heard for long enough to end a soak if the next sample is this one. */
  boolean silentBefore(long nextUs) {
    return run == null || cutter.silentBefore(nextUs);
  }

  /** Ends the open soak where what begins at this time is not to be joined to it. */
  void endBefore(long nextUs, PendingWrites out) {
    if (run != null) {
      End given = cutter.givenBefore(nextUs);
      end(given == null ? End.SILENCE : given, nextUs, out);
    }
  }

  /** Ends the open soak because of a bin that begins another. */
  private void end(End why, long nextUs, PendingWrites out) {
    boolean given = cutter.givenBefore(nextUs) != null;
    boolean silent = given ? cutter.silentWhenEnded() : run.silentBy(nextUs);
    if (silent) {
      run.silence(out);
    }
    end(why, out);
  }

  /** Ends the open soak. */
  void end(End why, PendingWrites out) {
    if (run != null) {
      run.flush(out);
      out.soak(run.soak(cutter.lastUs(), samples, why));
      out.ended(() -> run.summary(cutter.lastUs(), true));
      run = null;
      cuts++;
      ended = why;
      boot = 0;
      cutter.ended();
    }
  }

  /** Ends the open soak by hand, everything heard so far included. */
  void takeOff(PendingWrites out) {
    closeBefore(Long.MAX_VALUE, out);
    if (run != null) {
      cutter.endedAt(cutter.lastUs(), End.TAKEN_OFF, run.silent());
      end(End.TAKEN_OFF, out);
    }
  }

  /** Ends the open soak because the tracker's clock was set back. */
  void endClockSet(PendingWrites out) {
    if (run != null) {
      cutter.endedAt(cutter.lastUs(), End.CLOCK_SET, run.silent());
      end(End.CLOCK_SET, out);
    }
  }

  /** Whether the soak that goes on is another one than any that this time belongs to. */
  boolean beganAfter(long us) {
    return run != null && run.startUs() - us > SoakCutter.SILENCE_ENDS_US;
  }

  /** Its newest timestamp. */
  long newestUs() {
    return newestUs;
  }

  /** Detects a clock that was set back, as against late lines. */
  ClockStepDetector clockStep() {
    return clockStep;
  }

  /** Takes an end that the samples don't show. */
  void endedAt(long us, End why, boolean silent) {
    cutter.endedAt(us, why, silent);
  }

  /**
   * Ends the open soak again as a live clock or a person had ended it: by the clock where the
   * samples still reach no further, by hand where no later second is closed. What is open then
   * begins another soak; were it waited for, a restart meanwhile would know nothing of the end.
   */
  void endAgain(Soak old, PendingWrites out) {
    boolean byHand = old.givenEnd() && cutter.second() <= old.endSecond();
    boolean byClock = old.ended() == End.SILENCE && newestUs <= old.endUs();
    if (byClock) {
      closeBefore(Long.MAX_VALUE, out);
    }
    if (run != null && byHand && cutter.silentWhenEnded()) {
      run.silence(out);
    }
    if (byHand || byClock) {
      end(old.ended(), out);
    }
  }

  /** Restores a silence that a live clock had detected. */
  void silentAgain(long fromUs, PendingWrites out) {
    if (run != null && open.isEmpty() && run.silentFromUs() == fromUs) {
      run.silence(out);
    }
  }

  /** Nothing has been heard for as long as the limits allow. */
  void fallSilent(PendingWrites out) {
    if (run != null && open.isEmpty()) {
      run.silence(out);
    }
  }

  /**
   * A tick of the live clock; the newest sample came at {@code heardAtUs} of the same clock.
   *
   * @param measuredNow false where what came of it was not measured just now but recorded before:
   *     that it is quiet says nothing of the tracker
   */
  void tick(long nowUs, boolean measuredNow, PendingWrites out) {
    long quietUs = nowUs - heardAtUs;
    long wouldBeUs = newestUs + Math.max(0, quietUs);
    closeBefore(Math.floorDiv(wouldBeUs, 1_000_000L) - CLOSE_AFTER_S, out);
    if (run == null || !open.isEmpty()) {
      return;
    }
    if (endsAt(nowUs, measuredNow)) {
      end(End.SILENCE, out);
    } else if (measuredNow && quietUs > run.silenceUs()) {
      run.silence(out);
    }
  }

  /** Whether the open soak, if there is one, has been quiet for long enough to end. */
  boolean endsAt(long nowUs, boolean measuredNow) {
    return run != null
        && nowUs - heardAtUs
            > (measuredNow
                ? SoakCutter.SILENCE_ENDS_US
                : Math.min(RECORDING_ENDS_US, run.silenceUs()));
  }

  void heardAt(long nowUs) {
    heardAtUs = nowUs;
  }

  long heardAtUs() {
    return heardAtUs;
  }

  /** A sample came; one that is older than the newest is not live. */
  void heard(Sample sample, long nowUs) {
    if (sample.timeUs() > newestUs) {
      newestUs = sample.timeUs();
      heardAtUs = nowUs;
    }
  }

  /** Samples of the last closed second, so that a reboot right after a restart is noticed. */
  void rememberBoot(List<Sample> lastSecond) {
    boots = new RebootDetector();
    for (Sample s : lastSecond) {
      boots.rebooted(s);
    }
  }

  Optional<Readiness> newest() {
    return run == null ? Optional.empty() : Optional.ofNullable(run.newest());
  }

  /** Whether a soak is open, or seconds that another one begins with. */
  boolean hears() {
    return run != null || !open.isEmpty();
  }

  Optional<SoakRun> run() {
    return Optional.ofNullable(run);
  }

  /** The last second that is closed; {@link Long#MIN_VALUE} before the first. */
  long closedSecond() {
    return cutter.second();
  }

  /** Whether a second is closed, so that it has, or had, a soak. */
  boolean begun() {
    return cutter.second() != Long.MIN_VALUE;
  }

  /** What was known of other soaks apart from the live watches is shared with them from now on. */
  void publishTo(EarlierSoaks live) {
    context.earlier().giveWayTo(live);
  }

  /** Grows whenever a soak begins or ends. */
  int cuts() {
    return cuts;
  }

  /** Sets the count that a stored soak had reached. */
  void samples(long stored) {
    samples = stored;
  }
}
