package soakbench.live.watch;

import soakbench.model.SoakTerms;

/** Tells what a soak is judged by. */
@FunctionalInterface
interface TermsBook {

  /** The terms of the soak of this tracker that begins at {@code startUs}. */
  SoakTerms of(String tracker, long startUs);

  /** The same that asks others what is known of earlier soaks; this, where it asks nobody. */
  default TermsBook knowing(EarlierSoaks others) {
    return this;
  }
}
