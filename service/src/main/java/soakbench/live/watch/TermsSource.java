package soakbench.live.watch;

import soakbench.model.SoakTerms;

/** Gives the terms that a soak is judged by. */
@FunctionalInterface
interface TermsSource {

  /** The terms of the soak of this tracker that begins at {@code startUs}. */
  SoakTerms of(String tracker, long startUs);

  /** The same with other earlier soaks; this, where it uses none. */
  default TermsSource knowing(EarlierSoaks others) {
    return this;
  }
}
