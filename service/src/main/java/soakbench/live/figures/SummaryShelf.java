package soakbench.live.figures;

import java.util.List;
import java.util.Set;
import soakbench.live.SoakSummary;
import soakbench.live.StoreException;
import soakbench.live.deriving.DueShelf;
import soakbench.model.Bin;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;

/** What {@link SummaryKeeper} needs of a store. Failures are {@link StoreException}. */
public interface SummaryShelf extends DueShelf<SummaryShelf.Due> {
  /** A soak that has ended, with what it was judged by. */
  record Due(Soak soak, SoakTerms terms) {}

  /** Ended soaks of which what is kept can't be read, or is of another version. */
  @Override
  List<String> due(int version, int most, Set<String> not);

  /** All bins of a soak, by time. */
  List<Bin> bins(Soak soak);

  /**
   * Keeps what was derived, unless the soak is another by now.
   *
   * @return whether it is kept
   */
  boolean keep(Soak soak, int version, SoakSummary summary);
}
