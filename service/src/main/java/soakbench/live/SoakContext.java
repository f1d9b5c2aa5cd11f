package soakbench.live;

/**
 * What a tracker's soaks are judged with beside its own samples.
 *
 * @param terms tells what a soak that begins is judged by
 * @param earlier what is known of other soaks; hears of each that ends
 * @param told what users say of the trackers' rates
 */
record SoakContext(TermsBook terms, EarlierSoaks earlier, RatesTold told) {

  /** The same with other terms. */
  SoakContext with(TermsBook others) {
    return new SoakContext(others, earlier, told);
  }

  /** A soak that begins. */
  SoakRun begin(String tracker, long startUs) {
    return new SoakRun(tracker, startUs, terms.of(tracker, startUs), earlier, told);
  }

  /** Nothing derived yet; soaks that end are made known as they do. */
  Derived nothingYet() {
    return new Derived(earlier);
  }

  /**
   * The same with a copy of what is known of other soaks, for what is derived apart from the live
   * watches until it takes a place among them.
   */
  SoakContext apart() {
    EarlierSoaks copy = earlier.copy();
    return new SoakContext(terms.knowing(copy), copy, told);
  }
}
