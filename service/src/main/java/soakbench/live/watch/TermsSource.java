package soakbench.live.watch;

import java.util.function.Supplier;
import soakbench.model.Limits;
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

  /**
   * What a soak that begins now is judged by.
   *
   * @param limits those in force; read by any thread
   * @param earlier gives the prior of its time constant
   */
  record InForce(Supplier<Limits> limits, EarlierSoaks earlier) implements TermsSource {
    @Override
    public SoakTerms of(String tracker, long startUs) {
      return new SoakTerms(limits.get(), earlier.prior(tracker, startUs));
    }

    @Override
    public TermsSource knowing(EarlierSoaks others) {
      return new InForce(limits, others);
    }
  }
}
