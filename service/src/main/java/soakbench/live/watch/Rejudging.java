package soakbench.live.watch;

import java.util.ArrayList;
import java.util.List;
import soakbench.live.RatesAt;
import soakbench.live.RatesDeclared;
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
  private final Findings out = new Findings();

  /**
   * @param terms with what was told of its rates while it went on
   * @param told what users say of them now; asked where nothing is kept of it
   */
  public Rejudging(Soak soak, SoakTerms terms, RatesDeclared told) {
    this.soak = soak;
    RatesAt rates = (tracker, second) -> terms.ratesAt(second).orElseGet(() -> told.of(tracker));
    this.run = new SoakRun(soak.tracker(), soak.startUs(), terms, CoolingSource.NONE, rates);
  }

  /** Takes the soak's next bin; all of them by time, none left out. */
  public void accept(Bin bin) {
    run.accept(bin, out);
  }

  /**
   * The timeline.
   *
   * @param said the soak's own timeline; tells whether it fell silent before it ended
   */
  public List<StateChange> timeline(List<StateChange> said) {
    if (run.last() != null) {
      // One of the past that was sent in ended without a silence being said.
      boolean silent = !said.isEmpty() && said.get(said.size() - 1).state() == State.SILENT;
      if (silent) {
        run.silence(out);
      } else if (!soak.open()) {
        run.flush(out);
      }
    }
    return new ArrayList<>(out.timelines.getOrDefault(run.id(), List.of()));
  }
}
