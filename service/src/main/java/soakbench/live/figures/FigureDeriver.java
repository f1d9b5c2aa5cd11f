package soakbench.live.figures;

import java.util.List;
import soakbench.drift.curve.CurveAsk;
import soakbench.drift.curve.RestingFace;
import soakbench.drift.curve.StillSoak;
import soakbench.drift.heading.HeadingAsk;
import soakbench.live.EventClock;
import soakbench.live.deriving.DerivationInput;
import soakbench.live.deriving.DerivedStore;
import soakbench.live.deriving.Deriver;
import soakbench.live.deriving.SoakDrift;
import soakbench.lots.SoakFigures;
import soakbench.model.Bin;

/**
 * Derives every soak's figures, so that a table of all trackers is read and not computed on
 * request.
 */
public final class FigureDeriver extends Deriver<SoakFigures> {
  /** To be raised when the same bins give other figures: all are derived again then. */
  public static final int VERSION = 5;

  private static final int AT_A_TIME = 20;

  /** Of no version: what failed is retried, and holds the reason meanwhile. */
  private static final int FAILED = 0;

  /** The same without a clock that dates failures. */
  public FigureDeriver(DerivedStore<SoakFigures> store) {
    this(store, () -> 0);
  }

  /**
   * @param clock dates what fails
   */
  public FigureDeriver(DerivedStore<SoakFigures> store, EventClock clock) {
    super("figures", store, VERSION, AT_A_TIME, clock);
  }

  @Override
  protected void derive(DerivationInput input) {
    List<Bin> bins = store().reader().bins(input.soak());
    List<Bin> earlier = input.before() == null ? List.of() : store().reader().bins(input.before());
    SoakFigures figures;
    try {
      figures = figures(input, bins, earlier);
    } catch (RuntimeException e) {
      String why = "no figures by a mistake of the program: " + e;
      keep(input, FAILED, SoakFigures.unknown(input.useC(), why));
      throw e;
    }
    keep(input, VERSION, figures);
  }

  private void keep(DerivationInput input, int version, SoakFigures figures) {
    store().put(input, version, figures, input.soak().open());
  }

  /**
   * @param earlier bins of the soak before, which may show the settling after power-on again
   */
  private static SoakFigures figures(DerivationInput input, List<Bin> bins, List<Bin> earlier) {
    double useC = input.useC();
    StillSoak again = earlier.isEmpty() ? null : StillSoak.of(earlier);
    CurveAsk ask = new CurveAsk(useC, null, null, null, CurveAsk.POINTS, again);
    SoakDrift drift = SoakDrift.of(bins, ask, input.rates());
    return SoakFigures.of(
        drift.warmUp(),
        drift.curve().curve(),
        drift.noise(),
        drift.heading(HeadingAsk.between(drift.newestC(), useC)),
        RestingFace.gravityG(StillSoak.of(bins)));
  }
}
