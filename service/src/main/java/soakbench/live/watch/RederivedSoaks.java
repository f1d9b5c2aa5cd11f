package soakbench.live.watch;

import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import soakbench.live.SoakStore;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.model.State;
import soakbench.model.StateChange;

/**
 * Soaks of a tracker derived again, to be written in place of those before. Where the last of them
 * is still open, its watch replaces the live one after it has caught up with what came meanwhile.
 *
 * @param watch of the last soak derived
 * @param out all that was derived, but for bins that are written already
 * @param again the stored soaks that it replaces, by start
 * @param lost stored soaks some of whose samples are no longer stored: they stay
 * @param terms by which the newest replaced soak was judged; null where none was
 * @param goesOn whether the watch takes the live one's place
 * @param fedSecond seconds after this one are still to be taken from the samples
 */
record RederivedSoaks(
    TrackerWatch watch,
    PendingWrites out,
    List<Soak> again,
    List<Soak> lost,
    SoakTerms terms,
    boolean goesOn,
    long fedSecond) {
  private static final long US_PER_S = 1_000_000L;

  /** Samples are read so much at a time: those of a long soak would not fit into memory. */
  private static final long READ_US = 600_000_000L;

  /** Whether the newest soak is still judged by what it was judged by here. */
  boolean holds(SoakStore.Reader reader) {
    return again.isEmpty() || reader.terms(newest().id()).equals(Optional.ofNullable(terms));
  }

  private Soak newest() {
    return again.get(again.size() - 1);
  }

  /**
   * Takes what came since.
   *
   * @param heardAtUs when its newest sample came, by the live clock
   * @param nowUs what that clock says now
   * @param measuredNow whether what comes of it is being measured now
   */
  void catchUp(SoakStore.Unit unit, long heardAtUs, long nowUs, boolean measuredNow) {
    long closedUs = watch.closedSecond() * US_PER_S;
    if (watch.begun()) {
      watch.rememberBoot(unit.samples(watch.tracker(), closedUs, closedUs + US_PER_S));
    }
    feed(unit, (fedSecond + 1) * US_PER_S);
    closeAgain(unit);
    watch.heardAt(heardAtUs);
    watch.tick(nowUs, measuredNow, out);
  }

  private void feed(SoakStore.Unit unit, long fromUs) {
    long endUs = watch.aheadUntilUs();
    OptionalLong nextUs = unit.nextSampleUs(watch.tracker(), fromUs);
    while (nextUs.isPresent() && nextUs.getAsLong() < endUs) {
      long toUs = Math.min(endUs, nextUs.getAsLong() + READ_US);
      for (Sample s : unit.samples(watch.tracker(), nextUs.getAsLong(), toUs)) {
        watch.accept(s, out);
      }
      nextUs = unit.nextSampleUs(watch.tracker(), toUs);
    }
  }

  /** What a live clock or a person had ended is not reopened. */
  void closeAgain(SoakStore.Unit unit) {
    if (!again.isEmpty()) {
      Soak last = stored(unit, newest());
      watch.closeBefore(last.endSecond() + 1, out);
      watch.silentAgain(silentAtEndUs(unit.timeline(last.id())), out);
      watch.endAgain(last, out);
    }
  }

  private static long silentAtEndUs(List<StateChange> timeline) {
    StateChange last = timeline.isEmpty() ? null : timeline.get(timeline.size() - 1);
    return last != null && last.state() == State.SILENT ? last.timeUs() : Long.MIN_VALUE;
  }

  private static Soak stored(SoakStore.Reader reader, Soak soak) {
    return reader.soaks(soak.tracker(), soak.startUs()).stream()
        .filter(s -> s.id().equals(soak.id()))
        .findFirst()
        .orElse(soak);
  }

  /** Writes it; what differs from before is marked revised. */
  void write(SoakStore.Unit unit) {
    List<StateChange> before = again.stream().flatMap(s -> unit.timeline(s.id()).stream()).toList();
    for (Soak s : again) {
      if (!out.soaks.containsKey(s.id())) {
        unit.deleteSoak(s.id());
      }
    }
    lost.stream().filter(Soak::samplesKept).map(s -> stored(unit, s)).forEach(s -> lose(unit, s));
    out.replace(unit, before);
  }

  private static void lose(SoakStore.Unit unit, Soak soak) {
    unit.writeSoak(soak.withoutSamples());
  }

  /** Publishes it to the soaks that begin from now on. */
  void publishTo(EarlierSoaks live) {
    again.forEach(s -> live.remove(s.tracker(), s.id()));
    out.summaries.values().forEach(live::put);
    watch.publishTo(live);
  }
}
