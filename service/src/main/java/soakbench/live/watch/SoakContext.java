package soakbench.live.watch;

import java.util.function.Supplier;
import soakbench.live.RatesHistory;

/**
 * What a tracker's soaks are judged with, beside its own samples.
 *
 * @param terms gives the terms of a soak that begins
 * @param earlier what is known of other soaks; receives each that ends
 * @param rates what was declared of the trackers' rates
 * @param program by which name judges are kept and taken up; null where they are not
 */
record SoakContext(
    TermsSource terms, EarlierSoaks earlier, RatesHistory rates, Supplier<String> program) {

  /** The same for one tracker of which soaks are stored. */
  SoakContext with(StoredTerms known) {
    return new SoakContext(known, earlier, known.ratesBefore(rates), program);
  }

  /** A soak that begins. */
  SoakRun begin(String tracker, long startUs) {
    return new SoakRun(tracker, startUs, terms.of(tracker, startUs), earlier, rates);
  }

  /** Nothing derived yet; soaks are published as they end. */
  PendingWrites nothingYet() {
    return new PendingWrites(earlier);
  }

  /**
   * The same with a copy of what is known of other soaks, for what is derived apart from the live
   * watches until it takes a place among them.
   */
  SoakContext apart() {
    EarlierSoaks copy = earlier.copy();
    return new SoakContext(terms.knowing(copy), copy, rates, program);
  }
}
