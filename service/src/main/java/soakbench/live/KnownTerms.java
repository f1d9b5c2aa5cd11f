package soakbench.live;

import java.util.NavigableMap;
import java.util.TreeMap;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;

/**
 * The terms of one tracker's stored soaks, so that a soak that is derived again is judged by what
 * it was judged by before, and those in force for soaks that begin after them.
 */
final class KnownTerms implements TermsBook {
  private record Known(long endUs, SoakTerms terms) {}

  private final NavigableMap<Long, Known> byStartUs = new TreeMap<>();
  private final TermsBook inForce;

  /**
   * @param inForce asked for a soak that begins after all those added
   */
  KnownTerms(TermsBook inForce) {
    this.inForce = inForce;
  }

  /** Adds a stored soak. */
  KnownTerms add(Soak soak, SoakTerms terms) {
    byStartUs.put(soak.startUs(), new Known(soak.endUs(), terms));
    return this;
  }

  /**
   * Those of the stored soak in which the soak begins, or else of the one after it: a late sample
   * may have moved its start, or joined two soaks to one.
   */
  @Override
  public SoakTerms of(String tracker, long startUs) {
    var before = byStartUs.floorEntry(startUs);
    if (before != null && startUs <= before.getValue().endUs()) {
      return before.getValue().terms();
    }
    var after = byStartUs.higherEntry(startUs);
    return after == null ? inForce.of(tracker, startUs) : after.getValue().terms();
  }
}
