package soakbench.model;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import soakbench.model.Tracker.Rates;

/**
 * What one soak is judged by. Limits and what was known beforehand are fixed when it begins, so
 * that its timeline never mixes two sets of limits; what is told of its rates meanwhile is kept
 * with the time from which it holds. So a restart, a late sample and a look years later all judge
 * it by the same.
 *
 * @param limits what counts as ready
 * @param tauPrior what was known of its time constant beforehand; null where nothing was
 * @param rates what was told of its rates, by time, no two in a row the same: the first was told
 *     before it began, each later one while it went on. Empty for a soak of before this was kept
 */
public record SoakTerms(Limits limits, TauPrior tauPrior, List<ToldRates> rates) {

  public SoakTerms {
    rates = List.copyOf(rates);
  }

  /** These, with nothing kept of what was told. */
  public SoakTerms(Limits limits, TauPrior tauPrior) {
    this(limits, tauPrior, List.of());
  }

  /** These limits, with nothing known beforehand. */
  public static SoakTerms of(Limits limits) {
    return new SoakTerms(limits, null);
  }

  /** Other limits, with what was known beforehand and told. */
  public SoakTerms with(Limits others) {
    return new SoakTerms(others, tauPrior, rates);
  }

  /** The same with nothing kept of what was told. */
  public SoakTerms untold() {
    return new SoakTerms(limits, tauPrior);
  }

  /**
   * The same with what is told now.
   *
   * @param fromSecond from when on it holds, later than all before
   * @return this where it was told already
   */
  public SoakTerms told(long fromSecond, Rates now) {
    if (!rates.isEmpty() && rates.get(rates.size() - 1).rates() == now) {
      return this;
    }
    List<ToldRates> all = new ArrayList<>(rates);
    all.add(new ToldRates(fromSecond, now));
    return new SoakTerms(limits, tauPrior, all);
  }

  /** What was told of its rates at a second; empty where nothing is kept of it. */
  public Optional<Rates> ratesAt(long second) {
    Rates at = rates.isEmpty() ? null : rates.get(0).rates();
    for (ToldRates told : rates) {
      if (told.fromSecond() <= second) {
        at = told.rates();
      }
    }
    return Optional.ofNullable(at);
  }
}
