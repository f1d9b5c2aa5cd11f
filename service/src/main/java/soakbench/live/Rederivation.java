package soakbench.live;

import java.util.ArrayList;
import java.util.List;
import soakbench.model.Soak;
import soakbench.model.State;
import soakbench.model.StateChange;

/**
 * Derives a tracker's soaks again from the samples, from the soak on in which something came late.
 * What had been said otherwise before is marked revised.
 */
final class Rederivation {
  /** Samples are read so much at a time: those of a long soak would not fit into memory. */
  private static final long READ_US = 1_800_000_000L;

  private final SoakStore.Unit unit;
  private final SoakContext context;

  Rederivation(SoakStore.Unit unit, SoakContext context) {
    this.unit = unit;
    this.context = context;
  }

  /**
   * The tracker's watch as it would be had all samples come in time; everything derived is written
   * to the unit.
   *
   * @param heardAtUs when its newest sample came, by the live clock
   * @param nowUs what that clock says now
   */
  TrackerWatch of(String tracker, long fromSecond, long heardAtUs, long nowUs) {
    List<Soak> old = unit.soaks(tracker, fromSecond * 1_000_000L - SoakCutter.SILENCE_ENDS_US);
    List<StateChange> said = new ArrayList<>();
    KnownTerms terms = new KnownTerms(context.terms());
    TrackerWatch watch = new TrackerWatch(tracker, context.with(terms));
    long silentUs = Long.MIN_VALUE;
    for (Soak s : old) {
      List<StateChange> timeline = unit.timeline(s.id());
      said.addAll(timeline);
      unit.terms(s.id()).ifPresent(its -> terms.add(s, its));
      silentUs = silentAtEndUs(timeline);
      if (s.ended() == Soak.End.TAKEN_OFF) {
        watch.takenOffAt(s.endUs(), silentUs != Long.MIN_VALUE);
      }
    }
    long startUs = old.isEmpty() ? Long.MAX_VALUE : old.get(0).startUs();
    long baseUs = Math.min(startUs, fromSecond * 1_000_000L);
    old.forEach(s -> context.earlier().remove(tracker, s.id()));
    Derived out = context.nothingYet();
    feed(watch, baseUs, old.isEmpty() ? baseUs : old.get(old.size() - 1).endUs(), out);
    if (!old.isEmpty()) {
      closeAgain(watch, old.get(old.size() - 1), silentUs, out);
    }
    watch.heardAt(heardAtUs);
    watch.tick(nowUs, out);
    write(old, said, out);
    return watch;
  }

  private void feed(TrackerWatch watch, long fromUs, long newestUs, Derived out) {
    long us = fromUs;
    for (; us < newestUs; us += READ_US) {
      unit.samples(watch.tracker(), us, us + READ_US).forEach(s -> watch.accept(s, out));
    }
    unit.samples(watch.tracker(), us, Long.MAX_VALUE).forEach(s -> watch.accept(s, out));
  }

  /** What a live clock or a person had closed does not open again. */
  private static void closeAgain(TrackerWatch watch, Soak last, long silentUs, Derived out) {
    watch.closeBefore(Math.floorDiv(last.endUs(), 1_000_000L) + 1, out);
    watch.silentAgain(silentUs, out);
    watch.endAgain(last, out);
  }

  private static long silentAtEndUs(List<StateChange> timeline) {
    StateChange last = timeline.isEmpty() ? null : timeline.get(timeline.size() - 1);
    return last != null && last.state() == State.SILENT ? last.timeUs() : Long.MIN_VALUE;
  }

  private void write(List<Soak> old, List<StateChange> said, Derived out) {
    for (Soak s : old) {
      if (!out.soaks.containsKey(s.id())) {
        unit.deleteSoak(s.id());
      }
    }
    unit.writeBins(out.bins);
    out.soaks.values().forEach(unit::writeSoak);
    out.terms.forEach(unit::writeTerms);
    out.summaries.values().forEach(unit::writeSummary);
    Revision revision = new Revision(said, out.timelines.values());
    out.timelines.forEach((soak, now) -> unit.replaceTimeline(soak, revision.marked(now)));
  }
}
