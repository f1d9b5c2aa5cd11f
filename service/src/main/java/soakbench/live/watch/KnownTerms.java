package soakbench.live.watch;

import java.util.NavigableMap;
import java.util.TreeMap;
import soakbench.live.RatesAt;
import soakbench.model.DeclaredRates;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.model.Tracker.Rates;

/**
 * The terms of one tracker's stored soaks, so that a soak that is derived again is judged by what
 * it was judged by before, and those in force for soaks that begin after them. With them what was
 * told of its rates, second by second: late samples may move a soak's start, or join two soaks.
 */
final class KnownTerms implements TermsBook {
  private record Known(long endUs, SoakTerms terms) {}

  private final NavigableMap<Long, Known> byStartUs = new TreeMap<>();

  /** From which second on what was told; null for a soak of which nothing is kept. */
  private final NavigableMap<Long, Rates> rates = new TreeMap<>();

  private final TermsBook inForce;
  private long toldUntilSecond = Long.MIN_VALUE;

  /**
   * @param inForce asked for a soak that begins after all those added
   */
  KnownTerms(TermsBook inForce) {
    this.inForce = inForce;
  }

  /** Adds a stored soak. */
  KnownTerms add(Soak soak, SoakTerms terms) {
    byStartUs.put(soak.startUs(), new Known(soak.endUs(), terms));
    long start = Math.floorDiv(soak.startUs(), 1_000_000L);
    rates.put(start, terms.ratesAt(start).orElse(null));
    for (DeclaredRates told : terms.rates()) {
      if (told.fromSecond() > start) {
        rates.put(told.fromSecond(), told.rates());
      }
    }
    toldUntilSecond = Math.max(toldUntilSecond, Math.floorDiv(soak.endUs(), 1_000_000L));
    return this;
  }

  /**
   * What was told until the newest closed second; later ones, and soaks of which nothing is kept,
   * take what is told now.
   */
  RatesAt ratesBefore(RatesAt now) {
    return (tracker, second) -> {
      Rates told = second <= toldUntilSecond ? ratesAt(second) : null;
      return told == null ? now.of(tracker, second) : told;
    };
  }

  private Rates ratesAt(long second) {
    var at = rates.floorEntry(second);
    return at == null ? rates.firstEntry().getValue() : at.getValue();
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
