package soakbench.live.watch;

import java.util.List;
import soakbench.live.SoakStore;
import soakbench.model.Bin;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.model.State;
import soakbench.model.StateChange;

/**
 * Restores a tracker from the store: its last soak, if it is open, judged again from its bins, by
 * its own terms or by new ones.
 */
final class Restoration {
  private final SoakStore.Unit unit;
  private final SoakContext context;

  /**
   * @param context its terms are those of soaks that are still to begin
   */
  Restoration(SoakStore.Unit unit, SoakContext context) {
    this.unit = unit;
    this.context = context;
  }

  /** The watch of the tracker whose last soak this is. */
  TrackerWatch of(Soak soak) {
    TrackerWatch watch = closed(soak);
    PendingWrites open = context.nothingYet();
    keepDeclaredRates(soak, watch);
    takeOpenSecond(watch, open);
    open.write(unit);
    return watch;
  }

  /** The same as far as its seconds are closed; writes nothing. */
  TrackerWatch closed(Soak soak) {
    StoredTerms terms = new StoredTerms(context.terms());
    unit.terms(soak.id()).ifPresent(its -> terms.add(soak, its));
    TrackerWatch watch = new TrackerWatch(soak.tracker(), context.with(terms));
    if (soak.givenEnd()) {
      watch.endedAt(soak.endUs(), soak.ended(), false);
    }
    watch.passes(laterThan(soak));
    PendingWrites known = replayed(watch, soak);
    resumeSilence(soak, watch, known);
    if (!soak.open()) {
      watch.end(soak.ended(), known);
    }
    return watch;
  }

  /**
   * The same tracker judged again by other terms, which replace those of its soak; what differs
   * from its timeline is marked revised.
   *
   * @param soak its last soak, which must be open
   * @param heardAtUs when its newest sample came, by the live clock
   * @param nowUs what that clock says now
   */
  TrackerWatch again(Soak soak, SoakTerms terms, long heardAtUs, long nowUs) {
    StoredTerms known = new StoredTerms(context.terms()).add(soak, terms);
    TrackerWatch watch = new TrackerWatch(soak.tracker(), context.with(known));
    watch.passes(laterThan(soak));
    PendingWrites out = context.nothingYet();
    PendingWrites was = replayed(watch, soak);
    out.timelines.putAll(was.timelines);
    out.terms.putAll(was.terms);
    takeOpenSecond(watch, out);
    List<StateChange> before = unit.timeline(soak.id());
    double heardBeforeS = unit.terms(soak.id()).map(Restoration::heardWithinS).orElse(0.0);
    if (isSilent(before) && heardWithinS(terms) <= heardBeforeS) {
      // Even if a restart made the clock forget for how long: for long enough.
      watch.fallSilent(out);
    }
    watch.heardAt(heardAtUs);
    watch.tick(nowUs, true, out);
    unit.writeTerms(soak.id(), terms);
    out.replace(unit, before);
    return watch;
  }

  /** What follows from the soak's bins. */
  private PendingWrites replayed(TrackerWatch watch, Soak soak) {
    PendingWrites known = new PendingWrites();
    for (Bin bin : bins(soak)) {
      watch.replay(bin, 0, known);
    }
    watch.samples(soak.samples());
    return known;
  }

  /** A soak from before this was stored takes what is declared now, for good. */
  private void keepDeclaredRates(Soak soak, TrackerWatch watch) {
    boolean kept = unit.terms(soak.id()).filter(t -> !t.rates().isEmpty()).isPresent();
    if (soak.open() && !kept) {
      watch.run().ifPresent(run -> unit.writeTerms(run.id(), run.terms()));
    }
  }

  private static double heardWithinS(SoakTerms terms) {
    return terms.limits().heardWithinS();
  }

  /** Soaks of times that are still to come by a clock that was set back. */
  private List<Soak> laterThan(Soak soak) {
    return unit.soaks(soak.tracker(), soak.startUs()).stream()
        .filter(s -> s.startUs() > soak.startUs())
        .toList();
  }

  private void takeOpenSecond(TrackerWatch watch, PendingWrites out) {
    long closedUs = watch.closedSecond() * 1_000_000L;
    String tracker = watch.tracker();
    watch.rememberBoot(unit.samples(tracker, closedUs, closedUs + 1_000_000L));
    for (Sample s : unit.samples(tracker, closedUs + 1_000_000L, watch.aheadUntilUs())) {
      watch.accept(s, out);
    }
  }

  /**
   * A silence that a live clock had noticed before the restart is in the timeline and not in the
   * bins.
   */
  private void resumeSilence(Soak soak, TrackerWatch watch, PendingWrites known) {
    List<StateChange> timeline = unit.timeline(soak.id());
    int before = known.timelines.getOrDefault(soak.id(), List.of()).size();
    if (timeline.size() > before && isSilent(timeline)) {
      watch.run().ifPresent(run -> run.silence(known));
    }
  }

  private static boolean isSilent(List<StateChange> timeline) {
    return !timeline.isEmpty() && timeline.get(timeline.size() - 1).state() == State.SILENT;
  }

  /** An ended soak is judged no more: of it only its last second matters. */
  private List<Bin> bins(Soak soak) {
    long fromUs = soak.open() ? soak.startUs() : soak.endUs();
    return unit.bins(soak.tracker(), Math.floorDiv(fromUs, 1_000_000L), soak.endSecond() + 1);
  }
}
