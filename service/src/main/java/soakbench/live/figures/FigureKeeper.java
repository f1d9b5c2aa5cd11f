package soakbench.live.figures;

import java.util.List;
import soakbench.drift.curve.CurveAsk;
import soakbench.drift.curve.RestingFace;
import soakbench.drift.curve.StillSoak;
import soakbench.drift.heading.HeadingAsk;
import soakbench.live.EventClock;
import soakbench.live.deriving.DerivedShelf;
import soakbench.live.deriving.DueSoak;
import soakbench.live.deriving.Keeper;
import soakbench.live.deriving.SoakDrift;
import soakbench.lots.SoakFigureSet;
import soakbench.model.Bin;

/**
 * Keeps every soak's figures, so that a table of all trackers is read and not computed when
 * somebody asks.
 */
public final class FigureKeeper extends Keeper<SoakFigureSet> {
  /** To be raised when the same bins give other figures: all are derived again then. */
  public static final int VERSION = 4;

  private static final int AT_A_TIME = 20;

  /** Of no version: what failed is tried again, and says why meanwhile. */
  private static final int FAILED = 0;

  /** The same with nothing to date failures by. */
  public FigureKeeper(DerivedShelf<SoakFigureSet> shelf) {
    this(shelf, () -> 0);
  }

  /**
   * @param clock dates what fails
   */
  public FigureKeeper(DerivedShelf<SoakFigureSet> shelf, EventClock clock) {
    super("figures", shelf, VERSION, AT_A_TIME, clock);
  }

  @Override
  protected void derive(DueSoak due) {
    List<Bin> bins = shelf().look().bins(due.soak());
    List<Bin> earlier = due.before() == null ? List.of() : shelf().look().bins(due.before());
    SoakFigureSet figures;
    try {
      figures = figures(due, bins, earlier);
    } catch (RuntimeException e) {
      String why = "no figures by a mistake of the program: " + e;
      keep(due, FAILED, SoakFigureSet.unknown(due.useC(), why));
      throw e;
    }
    keep(due, VERSION, figures);
  }

  private void keep(DueSoak due, int version, SoakFigureSet figures) {
    shelf().keep(due, version, figures, due.soak().open());
  }

  /**
   * @param earlier bins of the soak before, which may show the settling after power-on again
   */
  private static SoakFigureSet figures(DueSoak due, List<Bin> bins, List<Bin> earlier) {
    double useC = due.useC();
    StillSoak again = earlier.isEmpty() ? null : StillSoak.of(earlier);
    CurveAsk ask = new CurveAsk(useC, null, null, null, CurveAsk.POINTS, again);
    SoakDrift drift = SoakDrift.of(bins, ask, due.rates());
    return SoakFigureSet.of(
        drift.warmUp(),
        drift.curve().curve(),
        drift.noise(),
        drift.heading(HeadingAsk.between(drift.newestC(), useC)),
        RestingFace.gravityG(StillSoak.of(bins)));
  }
}
