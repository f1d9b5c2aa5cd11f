package soakbench.live;

import java.util.List;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
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
 * samples: what is out of date is found by comparing, so nothing is missed by a crash.
 */
public final class FigureKeeper {
  /** To be raised when the same bins give other figures: all are derived again then. */
  static final int VERSION = 3;

  private static final Logger LOG = LoggerFactory.getLogger(FigureKeeper.class);
  private static final int AT_A_TIME = 20;

  private final FigureShelf shelf;

  public FigureKeeper(FigureShelf shelf) {
    this.shelf = shelf;
  }

  /**
   * Derives the figures of some soaks that need it.
   *
   * @return how many were derived; fewer than asked for when nothing more is due
   * @throws StoreException if the store does not answer
   */
  public int deriveDue() {
    List<Due> due = shelf.due(VERSION, AT_A_TIME);
    due.forEach(this::derive);
    return due.size();
  }

  private void derive(Due due) {
    List<Bin> earlier = shelf.before(due.soak()).map(shelf::bins).orElse(List.of());
    shelf.keep(due, VERSION, figures(due, shelf.bins(due.soak()), earlier));
  }

  /**
   * @param earlier bins of the soak before, which may show the settling after power-on again
   */
  private static SoakFigureSet figures(Due due, List<Bin> bins, List<Bin> earlier) {
    try {
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
    } catch (RuntimeException e) {
      // One soak that fails must not keep the others from their figures.
      LOG.error("soak {}: no figures by a mistake of the program", due.soak().id(), e);
      return SoakFigureSet.unknown(
          due.limits().useTemperatureC(), "no figures by a mistake of the program: " + e);
    }
  }
}
