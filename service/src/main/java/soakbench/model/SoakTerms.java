package soakbench.model;

import java.io.Serializable;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import soakbench.model.Tracker.Rates;

/**
 * What one soak is judged by. Limits and prior are fixed when it begins, so that its timeline never
 * mixes two sets of limits; what is declared of its rates meanwhile is kept with the time from
 * which it holds. So a restart, a late sample and a look years later all judge it by the same.
 *
 * @param limits what counts as ready
 * @param tauPrior prior of its time constant from earlier soaks; null where there were too few
 * @param rates what was declared of its rates, by time, no two in a row the same: the first before
 *     it began, each later one while it went on. Empty for a soak of before this was kept
 */
public record SoakTerms(Limits limits, TauPrior tauPrior, List<DeclaredRates> rates)
    implements Serializable {

  public SoakTerms {
    rates = List.copyOf(rates);
  }

  /** Terms that keep nothing of what was declared. */
  public SoakTerms(Limits limits, TauPrior tauPrior) {
    this(limits, tauPrior, List.of());
  }

  /** These limits, without a prior. */
  public static SoakTerms of(Limits limits) {
    return new SoakTerms(limits, null);
  }

  /** The same with other limits. */
  public SoakTerms with(Limits others) {
    return new SoakTerms(others, tauPrior, rates);
  }

  /** The same with nothing kept of what was declared. */
  public SoakTerms withoutDeclared() {
    return new SoakTerms(limits, tauPrior);
  }

  /**
   * The same with what is declared now.
   *
   * @param fromSecond from when on it holds, later than all before
   * @return this where it was declared already
   */
  public SoakTerms declared(long fromSecond, Rates now) {
    if (!rates.isEmpty() && rates.get(rates.size() - 1).rates() == now) {
      return this;
    }
    List<DeclaredRates> all = new ArrayList<>(rates);
    all.add(new DeclaredRates(fromSecond, now));
    return new SoakTerms(limits, tauPrior, all);
  }

  /** The same with what was declared until a second alone. */
  public SoakTerms until(long second) {
    return new SoakTerms(
        limits, tauPrior, rates.stream().filter(r -> r.fromSecond() <= second).toList());
  }

  /** What was declared of its rates at a second; empty where nothing is kept of it. */
  public Optional<Rates> ratesAt(long second) {
    Rates at = rates.isEmpty() ? null : rates.get(0).rates();
    for (DeclaredRates each : rates) {
      if (each.fromSecond() <= second) {
        at = each.rates();
      }
    }
    return Optional.ofNullable(at);
  }
}
