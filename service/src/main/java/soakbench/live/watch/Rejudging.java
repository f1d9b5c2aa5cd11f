package soakbench.live.watch;

import java.util.ArrayList;
import java.util.List;
import soakbench.live.RatesHistory;
import soakbench.live.RosterRates;
import soakbench.model.Bin;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.model.State;
import soakbench.model.StateChange;
import soakbench.readiness.CoolingSource;

/**
 * What a stored soak's timeline would have been by other terms; writes nothing. Not thread-safe.
 */
public final class Rejudging {
  private final Soak soak;
  private final SoakRun run;
  private final PendingWrites out = new PendingWrites();

  /**
   * @param terms with what was declared of its rates while it went on
   * @param declared what the roster declares now; used where nothing is stored
   */
  public Rejudging(Soak soak, SoakTerms terms, RosterRates declared) {
    this.soak = soak;
    RatesHistory rates =
        (tracker, second) -> terms.ratesAt(second).orElseGet(() -> declared.of(tracker));
    this.run = new SoakRun(soak.tracker(), soak.startUs(), terms, CoolingSource.NONE, rates);
  }

  /** Takes the soak's next bin; all of them by time, none left out. */
  public void accept(Bin bin) {
    run.accept(bin, out);
  }

  /**
   * The timeline.
   *
   * @param before the soak's own timeline; shows whether it fell silent before it ended
   */
  public List<StateChange> timeline(List<StateChange> before) {
    if (run.last() != null) {
      // An uploaded recording ended without a silence in its timeline.
      boolean silent = !before.isEmpty() && before.get(before.size() - 1).state() == State.SILENT;
      if (silent) {
        run.silence(out);
      } else if (!soak.open()) {
        run.flush(out);
      }
    }
    return new ArrayList<>(out.timelines.getOrDefault(run.id(), List.of()));
  }
}
