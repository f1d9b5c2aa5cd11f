package soakbench.live;

import java.util.List;
import soakbench.drift.CurveAsk;
import soakbench.drift.HeadingAsk;
import soakbench.drift.RestingFace;
import soakbench.drift.StillSoak;
import soakbench.live.FigureShelf.Due;
import soakbench.lots.SoakFigureSet;
import soakbench.model.Bin;

/**
 * Keeps every soak's figures up to date beside the soak, so that a table of all trackers is read
 * and not computed when somebody asks. They are derived from the bins, apart from the writing of
 * samples: of what changed it is noted that it may be out of date, and whether it is so is found by
 * comparing, all of it at the start, so nothing is missed by a crash.
 */
public final class FigureKeeper {
  /** To be raised when the same bins give other figures: all are derived again then. */
  public static final int VERSION = 3;

  private static final int AT_A_TIME = 20;

  /** Of no version: what failed is tried again, and says why meanwhile. */
  private static final int FAILED = 0;

  private final FigureShelf shelf;
  private final Deriving deriving;

  /** The same with nothing to date failures by. */
  public FigureKeeper(FigureShelf shelf) {
    this(shelf, () -> 0);
  }

  /**
   * @param clock dates what fails
   */
  public FigureKeeper(FigureShelf shelf, EventClock clock) {
    this.shelf = shelf;
    this.deriving = new Deriving("figures", clock);
  }

  /**
   * Derives the figures of some soaks that need it; those that fail are told by {@link #deriving}.
   *
   * @return how many were tried; fewer than asked for when nothing more is due
   */
  public int deriveDue() {
    return deriving.derive(AT_A_TIME, not -> shelf.due(VERSION, AT_A_TIME, not), this::derive);
  }

  /** How it goes. */
  public Deriving deriving() {
    return deriving;
  }

  private void derive(String soak) {
    shelf.soak(soak).ifPresent(this::derive);
  }

  private void derive(Due due) {
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
