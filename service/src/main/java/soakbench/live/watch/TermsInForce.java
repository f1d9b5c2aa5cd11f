package soakbench.live.watch;

import java.util.function.Supplier;
import soakbench.model.Limits;
import soakbench.model.SoakTerms;

/**
 * What a soak that begins now is judged by.
 *
 * @param limits those in force; asked by any thread
 * @param earlier tells what is known of its time constant beforehand
 */
record TermsInForce(Supplier<Limits> limits, EarlierSoaks earlier) implements TermsBook {
  @Override
  public SoakTerms of(String tracker, long startUs) {
    return new SoakTerms(limits.get(), earlier.prior(tracker, startUs));
  }

  @Override
  public TermsBook knowing(EarlierSoaks others) {
    return new TermsInForce(limits, others);
  }
}
