package soakbench.live.figures;

import java.util.function.Consumer;
import soakbench.live.EventClock;
import soakbench.live.RatesAt;
import soakbench.live.RatesDeclared;
import soakbench.live.SoakSummary;
import soakbench.live.deriving.DerivedShelf;
import soakbench.live.deriving.DueSoak;
import soakbench.live.deriving.Keeper;
import soakbench.live.watch.Findings;
import soakbench.live.watch.SoakRun;
import soakbench.model.Bin;
import soakbench.readiness.CoolingSource;

/**
 * Derives anew, from the bins, what is kept of ended soaks for those after them, where it is not
 * readable or of another version. Who writes samples writes it as well, so nothing else is due.
 */
public final class SummaryKeeper extends Keeper<SoakSummary.Shown> {
  /** To be raised when the same bins give another summary: all are derived again then. */
  public static final int VERSION = 2;

  /** One soak takes as long as judging it from its begin. */
  private static final int AT_A_TIME = 2;

  private final Consumer<SoakSummary> learns;

  /**
   * @param learns hears of each that is derived anew
   * @param clock dates what fails
   */
  public SummaryKeeper(
      DerivedShelf<SoakSummary.Shown> shelf, Consumer<SoakSummary> learns, EventClock clock) {
    super("what is kept for later soaks", shelf, VERSION, AT_A_TIME, clock);
    this.learns = learns;
  }

  @Override
  protected void derive(DueSoak due) {
    String tracker = due.soak().tracker();
    RatesAt rates =
        (t, second) -> due.terms().ratesAt(second).orElseGet(() -> RatesDeclared.NOTHING.of(t));
    SoakRun run =
        new SoakRun(tracker, due.soak().startUs(), due.terms(), CoolingSource.NONE, rates);
    Findings out = new Findings();
    for (Bin bin : shelf().look().bins(due.soak())) {
      run.accept(bin, out);
    }
    run.flush(out);
    SoakSummary summary = run.summary(due.soak().endUs(), true);
    if (shelf().keep(due, VERSION, summary.shown(), false)) {
      learns.accept(summary);
    }
  }
}
