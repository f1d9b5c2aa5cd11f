package soakbench.live.watch;

import java.util.function.Supplier;
import soakbench.model.Limits;
import soakbench.model.SoakTerms;

/**
 * What a soak that begins now is judged by.
 *
 * @param limits those in force; read by any thread
 * @param earlier gives the prior of its time constant
 */
record CurrentTerms(Supplier<Limits> limits, EarlierSoaks earlier) implements TermsSource {
  @Override
  public SoakTerms of(String tracker, long startUs) {
    return new SoakTerms(limits.get(), earlier.prior(tracker, startUs));
  }

  @Override
  public TermsSource knowing(EarlierSoaks others) {
    return new CurrentTerms(limits, others);
  }
}
