package soakbench.live.figures;

import java.util.List;
import java.util.Optional;
import java.util.Set;
import soakbench.live.StoreException;
import soakbench.live.deriving.DueShelf;
import soakbench.lots.SoakFigureSet;
import soakbench.model.Bin;
import soakbench.model.Limits;
import soakbench.model.Soak;
import soakbench.model.Tracker.Rates;

/** What {@link FigureKeeper} needs of a store. Failures are {@link StoreException}. */
public interface FigureShelf extends DueShelf<FigureShelf.Due> {
  /**
   * A soak whose kept figures are not those of its present state.
   *
   * @param limits what it is judged by
   * @param rates what the user says of its rates
   * @param before in which state the soak before it is; null where there is none
   */
  record Due(Soak soak, Limits limits, Rates rates, String before) {}

  /** The newest first; one that goes on is due once in a while only. */
  @Override
  List<String> due(int version, int most, Set<String> not);

  /** All bins of a soak, by time. */
  List<Bin> bins(Soak soak);

  /** The same tracker's soak before this one. */
  Optional<Soak> before(Soak soak);

  /** Keeps a soak's figures, with the state of the soak that they were derived from. */
  void keep(Due due, int version, SoakFigureSet figures);
}
