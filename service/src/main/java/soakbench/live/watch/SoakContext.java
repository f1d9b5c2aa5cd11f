package soakbench.live.watch;

import soakbench.live.RatesAt;

/**
 * What a tracker's soaks are judged with beside its own samples.
 *
 * @param terms tells what a soak that begins is judged by
 * @param earlier what is known of other soaks; hears of each that ends
 * @param rates what was told of the trackers' rates
 */
record SoakContext(TermsBook terms, EarlierSoaks earlier, RatesAt rates) {

  /** The same for one tracker of which soaks are stored. */
  SoakContext with(KnownTerms known) {
    return new SoakContext(known, earlier, known.ratesBefore(rates));
  }

  /** A soak that begins. */
  SoakRun begin(String tracker, long startUs) {
    return new SoakRun(tracker, startUs, terms.of(tracker, startUs), earlier, rates);
  }

  /** Nothing derived yet; soaks that end are made known as they do. */
  Findings nothingYet() {
    return new Findings(earlier);
  }

  /**
   * The same with a copy of what is known of other soaks, for what is derived apart from the live
   * watches until it takes a place among them.
   */
  SoakContext apart() {
    EarlierSoaks copy = earlier.copy();
    return new SoakContext(terms.knowing(copy), copy, rates);
  }
}
