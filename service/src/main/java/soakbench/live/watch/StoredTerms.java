package soakbench.live.watch;

import java.util.NavigableMap;
import java.util.TreeMap;
import soakbench.live.RatesHistory;
import soakbench.model.DeclaredRates;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.model.Tracker.Rates;

/**
 * The terms of one tracker's stored soaks, so that a soak that is derived again is judged by what
 * it was judged by before, and those in force for soaks that begin after them. With them what was
 * declared of its rates, second by second: late samples may move a soak's start, or join two soaks.
 */
final class StoredTerms implements TermsSource {
  private record Known(long endUs, SoakTerms terms) {}

  private final NavigableMap<Long, Known> byStartUs = new TreeMap<>();

  /** What was declared, by the second from which it holds; null for a soak with nothing stored. */
  private final NavigableMap<Long, Rates> rates = new TreeMap<>();

  private final TermsSource inForce;
  private long declaredUntilSecond = Long.MIN_VALUE;

  /**
   * @param inForce gives the terms of a soak that begins after all those added
   */
  StoredTerms(TermsSource inForce) {
    this.inForce = inForce;
  }

  /** Adds a stored soak. */
  StoredTerms add(Soak soak, SoakTerms terms) {
    byStartUs.put(soak.startUs(), new Known(soak.endUs(), terms));
    long start = Math.floorDiv(soak.startUs(), 1_000_000L);
    rates.put(start, terms.ratesAt(start).orElse(null));
    for (DeclaredRates declared : terms.rates()) {
      if (declared.fromSecond() > start) {
        rates.put(declared.fromSecond(), declared.rates());
      }
    }
    declaredUntilSecond = Math.max(declaredUntilSecond, Math.floorDiv(soak.endUs(), 1_000_000L));
    return this;
  }

  /**
   * What was declared until the newest closed second; later ones, and soaks with nothing stored,
   * take what is declared now.
   */
  RatesHistory ratesBefore(RatesHistory now) {
    return (tracker, second) -> {
      Rates declared = second <= declaredUntilSecond ? ratesAt(second) : null;
      return declared == null ? now.of(tracker, second) : declared;
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
