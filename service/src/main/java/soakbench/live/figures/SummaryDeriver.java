package soakbench.live.figures;

import java.util.function.Consumer;
import soakbench.live.EventClock;
import soakbench.live.RatesHistory;
import soakbench.live.RosterRates;
import soakbench.live.SoakSummary;
import soakbench.live.deriving.DerivationInput;
import soakbench.live.deriving.DerivedStore;
import soakbench.live.deriving.Deriver;
import soakbench.live.watch.PendingWrites;
import soakbench.live.watch.SoakRun;
import soakbench.model.Bin;
import soakbench.readiness.CoolingSource;

/**
 * Derives the summaries of ended soaks anew from their bins, where they are not readable or of
 * another version. The writer of samples writes them as well, so nothing else is out of date.
 */
public final class SummaryDeriver extends Deriver<SoakSummary.Thermal> {
  /** To be raised when the same bins give another summary: all are derived again then. */
  public static final int VERSION = 3;

  /** One soak takes as long as judging it from its begin. */
  private static final int AT_A_TIME = 2;

  private final Consumer<SoakSummary> learns;

  /**
   * @param learns receives each that is derived anew
   * @param clock dates what fails
   */
  public SummaryDeriver(
      DerivedStore<SoakSummary.Thermal> store, Consumer<SoakSummary> learns, EventClock clock) {
    super("what is kept for later soaks", store, VERSION, AT_A_TIME, clock);
    this.learns = learns;
  }

  @Override
  protected void derive(DerivationInput input) {
    String tracker = input.soak().tracker();
    RatesHistory rates =
        (t, second) -> input.terms().ratesAt(second).orElseGet(() -> RosterRates.NOTHING.of(t));
    SoakRun run =
        new SoakRun(tracker, input.soak().startUs(), input.terms(), CoolingSource.NONE, rates);
    PendingWrites out = new PendingWrites();
    for (Bin bin : store().reader().bins(input.soak())) {
      run.accept(bin, out);
    }
    run.flush(out);
    SoakSummary summary = run.summary(input.soak().endUs(), true);
    if (store().put(input, VERSION, summary.thermal(), false)) {
      learns.accept(summary);
    }
  }
}
