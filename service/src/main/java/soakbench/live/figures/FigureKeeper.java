package soakbench.live.figures;

import java.util.List;
import soakbench.drift.curve.CurveAsk;
import soakbench.drift.curve.RestingFace;
import soakbench.drift.curve.StillSoak;
import soakbench.drift.heading.HeadingAsk;
import soakbench.live.EventClock;
import soakbench.live.deriving.Keeper;
import soakbench.live.deriving.SoakDrift;
import soakbench.live.figures.FigureShelf.Due;
import soakbench.lots.SoakFigureSet;
import soakbench.model.Bin;

/**
 * Keeps every soak's figures, so that a table of all trackers is read and not computed when
 * somebody asks.
 */
public final class FigureKeeper extends Keeper<Due> {
  /** To be raised when the same bins give other figures: all are derived again then. */
  public static final int VERSION = 3;

  private static final int AT_A_TIME = 20;

  /** Of no version: what failed is tried again, and says why meanwhile. */
  private static final int FAILED = 0;

  private final FigureShelf shelf;

  /** The same with nothing to date failures by. */
  public FigureKeeper(FigureShelf shelf) {
    this(shelf, () -> 0);
  }

  /**
   * @param clock dates what fails
   */
  public FigureKeeper(FigureShelf shelf, EventClock clock) {
    super("figures", shelf, VERSION, AT_A_TIME, clock);
    this.shelf = shelf;
  }

  @Override
  protected void derive(Due due) {
    List<Bin> bins = shelf.bins(due.soak());
    List<Bin> earlier = shelf.before(due.soak()).map(shelf::bins).orElse(List.of());
    SoakFigureSet figures;
    try {
      figures = figures(due, bins, earlier);
    } catch (RuntimeException e) {
      String why = "no figures by a mistake of the program: " + e;
      double useC = due.limits().useTemperatureC();
      shelf.keep(due, FAILED, SoakFigureSet.unknown(useC, why));
      throw e;
    }
    shelf.keep(due, VERSION, figures);
  }

  /**
   * @param earlier bins of the soak before, which may show the settling after power-on again
   */
  private static SoakFigureSet figures(Due due, List<Bin> bins, List<Bin> earlier) {
    double useC = due.limits().useTemperatureC();
    StillSoak again = earlier.isEmpty() ? null : StillSoak.of(earlier);
    CurveAsk ask = new CurveAsk(useC, null, null, null, CurveAsk.POINTS, again);
    SoakDrift drift = SoakDrift.of(bins, ask, due.rates());
    return SoakFigureSet.of(
        drift.warmUp(),
        drift.curve().told(),
        drift.noise(),
        drift.heading(HeadingAsk.between(drift.newestC(), useC)),
        RestingFace.gravityG(StillSoak.of(bins)));
  }
}
