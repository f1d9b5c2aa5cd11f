package soakbench.live.watch;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
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
    return finished(judged(stored(soak)));
  }

  /** The same as far as its seconds are closed; writes nothing. */
  TrackerWatch closed(Soak soak) {
    return closed(judged(stored(soak)));
  }

  /**
   * A soak as it is stored, not judged yet.
   *
   * @param bins its seconds that are still to be judged
   */
  record Stored(Soak soak, TrackerWatch watch, List<Bin> bins) {}

  /**
   * A soak judged again.
   *
   * @param known what follows from its stored seconds
   */
  record Judged(Soak soak, TrackerWatch watch, PendingWrites known) {}

  /** Reads a soak. */
  Stored stored(Soak soak) {
    StoredTerms terms = new StoredTerms(context.terms());
    Optional<SoakTerms> its = unit.terms(soak.id());
    its.ifPresent(one -> terms.add(soak, one));
    SoakContext own = context.with(terms);
    TrackerWatch watch = new TrackerWatch(soak.tracker(), own);
    if (soak.givenEnd()) {
      watch.endedAt(soak.endUs(), soak.ended(), false);
    }
    watch.passes(laterThan(soak));
    KeptJudges judges = new KeptJudges(unit, context.program().get());
    its.ifPresent(one -> judges.resume(soak, one, own, watch));
    return new Stored(soak, watch, bins(soak, watch));
  }

  /** Judges its seconds; asks the store nothing, so that several can be judged at once. */
  static Judged judged(Stored stored) {
    PendingWrites known = replayed(stored.watch(), stored.soak(), stored.bins());
    return new Judged(stored.soak(), stored.watch(), known);
  }

  /** Restores what is stored beside its seconds. */
  TrackerWatch finished(Judged judged) {
    TrackerWatch watch = closed(judged);
    PendingWrites open = context.nothingYet();
    keepDeclaredRates(judged.soak(), watch);
    takeOpenSecond(watch, open);
    open.write(unit);
    return watch;
  }

  private TrackerWatch closed(Judged judged) {
    Soak soak = judged.soak();
    resumeSilence(soak, judged.watch(), judged.known());
    if (!soak.open()) {
      judged.watch().end(soak.ended(), judged.known());
    }
    return judged.watch();
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
    PendingWrites was = replayed(watch, soak, unit.bins(soak));
    out.timelines.put(soak.id(), new ArrayList<>());
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
  private static PendingWrites replayed(TrackerWatch watch, Soak soak, List<Bin> bins) {
    PendingWrites known = new PendingWrites();
    for (Bin bin : bins) {
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
    Optional<SoakRun> run = watch.run();
    int before = run.filter(r -> r.id().equals(soak.id())).map(SoakRun::changes).orElse(0);
    if (timeline.size() > before && isSilent(timeline)) {
      run.ifPresent(r -> r.silence(known));
    }
  }

  private static boolean isSilent(List<StateChange> timeline) {
    return !timeline.isEmpty() && timeline.get(timeline.size() - 1).state() == State.SILENT;
  }

  /** An ended soak is judged no more: of it only its last second matters. */
  private List<Bin> bins(Soak soak, TrackerWatch watch) {
    long from = soak.open() ? soak.startSecond() : soak.endSecond();
    long fromSecond = watch.begun() ? watch.closedSecond() + 1 : from;
    return unit.bins(soak.tracker(), fromSecond, soak.endSecond() + 1);
  }
}
