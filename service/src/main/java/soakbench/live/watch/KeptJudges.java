package soakbench.live.watch;

import java.io.IOException;
import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.live.KeptJudge;
import soakbench.live.RatesHistory;
import soakbench.live.SoakStore;
import soakbench.live.kept.ObjectForm;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.readiness.CoolingSource;

/**
 * Keeps the judges of soaks that go on in the store, now and then, and takes them up again where
 * nothing that they rest on has changed; within a unit of work.
 */
final class KeptJudges {
  private static final Logger LOG = LoggerFactory.getLogger(KeptJudges.class);

  /** A start judges at most so much of a soak again, s. */
  private static final long EVERY_S = 300;

  /** Those of a whole rack are due at once; a second's work must not wait for all of them. */
  static final int AT_ONCE = 4;

  private final SoakStore.Unit unit;
  private final String program;

  /**
   * @param program names a program that judges the same bins alike, to the digit; null where judges
   *     are not kept
   */
  KeptJudges(SoakStore.Unit unit, String program) {
    this.unit = unit;
    this.program = program;
  }

  /** Keeps those that have gone on longest since they were kept, a few at a time. */
  void keepDue(Collection<TrackerWatch> watches) {
    keep(watches, EVERY_S);
  }

  /**
   * Keeps a few that have gone on at all since they were kept; to be called until there are none.
   *
   * @return whether there were any
   */
  boolean keepMore(Collection<TrackerWatch> watches) {
    return keep(watches, 1);
  }

  private boolean keep(Collection<TrackerWatch> watches, long afterS) {
    if (program == null) {
      return false;
    }
    List<TrackerWatch> due =
        watches.stream()
            .filter(w -> w.secondsSinceKept() >= afterS)
            .sorted(Comparator.comparingLong(TrackerWatch::secondsSinceKept).reversed())
            .limit(AT_ONCE)
            .toList();
    due.forEach(this::keep);
    return !due.isEmpty();
  }

  private void keep(TrackerWatch watch) {
    SoakRun run = watch.run().orElseThrow();
    watch.noteKept();
    if (!run.keepable()) {
      return;
    }
    try {
      byte[] content = form(watch.context()).written(watch.keep());
      unit.keepJudge(
          new KeptJudge(
              run.id(), program, run.last().second(), run.bins(), run.readings(), content));
    } catch (IOException mistake) {
      LOG.error(
          "the judge of soak {} can't be kept, by a mistake of the program; a start takes longer",
          run.id(),
          mistake);
    }
  }

  /**
   * Has a tracker's watch take up its open soak where its judge was kept.
   *
   * @param terms by which the soak is judged
   * @param own what the watch was made with
   */
  void resume(Soak soak, SoakTerms terms, SoakContext own, TrackerWatch watch) {
    if (program == null || !soak.open()) {
      return;
    }
    unit.keptJudge(soak, program)
        .filter(kept -> !stale(soak, kept))
        .flatMap(kept -> read(kept, own))
        .filter(one -> one.run().fits(soak, terms))
        .ifPresent(watch::resume);
  }

  /** Bins that are being derived again may be new ones up to any second. */
  private boolean stale(Soak soak, KeptJudge kept) {
    return unit.stale(soak.tracker()).filter(s -> s.fromSecond() <= kept.second()).isPresent();
  }

  /** What of other soaks and of the roster was not written is given again. */
  private static ObjectForm form(SoakContext own) {
    return new ObjectForm(
        Map.of(CoolingSource.class, own.earlier(), RatesHistory.class, own.rates()));
  }

  private static Optional<TrackerWatch.Kept> read(KeptJudge kept, SoakContext own) {
    try {
      return Optional.of(form(own).read(kept.content(), TrackerWatch.Kept.class));
    } catch (IOException damaged) {
      LOG.warn(
          "soak {} is judged from its start, for its judge was kept but can't be read: {}",
          kept.soak(),
          damaged.getMessage());
      return Optional.empty();
    }
  }
}
