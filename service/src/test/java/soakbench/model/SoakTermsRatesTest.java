package soakbench.model;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import soakbench.model.Tracker.Rates;

/** What is told of a tracker's rates while its soak goes on. */
class SoakTermsRatesTest {
  private final SoakTerms none = SoakTerms.of(Limits.DEFAULT);
  private final SoakTerms twice =
      none.declared(100, Rates.UNKNOWN).declared(200, Rates.RAW).declared(300, Rates.FOLLOWS);

  @Test
  void nothingKeptSaysNothing() {
    assertThat(none.ratesAt(0)).isEmpty();
    assertThat(none.tauPrior()).isNull();
  }

  @Test
  void eachSecondHasWhatHeldThen() {
    assertThat(twice.ratesAt(199)).contains(Rates.UNKNOWN);
    assertThat(twice.ratesAt(200)).contains(Rates.RAW);
    assertThat(twice.ratesAt(299)).contains(Rates.RAW);
    assertThat(twice.ratesAt(300)).contains(Rates.FOLLOWS);
    assertThat(twice.ratesAt(Long.MAX_VALUE)).contains(Rates.FOLLOWS);
  }

  @Test
  void aSecondBeforeAllHasWhatWasToldFirst() {
    assertThat(twice.ratesAt(0)).contains(Rates.UNKNOWN);
  }

  @Test
  void theSameToldAgainChangesNothing() {
    assertThat(twice.declared(400, Rates.FOLLOWS)).isSameAs(twice);
    assertThat(twice.declared(400, Rates.RAW).rates()).hasSize(4);
  }

  @Test
  void otherLimitsKeepTheRest() {
    Limits others = LimitKeyTest.with(LimitKey.DWELL_S, 90);
    TauPrior prior = new TauPrior(700, 1.2, 5);
    SoakTerms terms = new SoakTerms(Limits.DEFAULT, prior, twice.rates()).with(others);
    assertThat(terms.limits().dwellS()).isEqualTo(90);
    assertThat(terms.tauPrior()).isEqualTo(prior);
    assertThat(terms.ratesAt(250)).contains(Rates.RAW);
    assertThat(terms.withoutDeclared()).isEqualTo(new SoakTerms(others, prior));
  }

  @Test
  void whatIsKeptCannotBeChangedFromOutside() {
    List<DeclaredRates> mine = new ArrayList<>(twice.rates());
    SoakTerms terms = new SoakTerms(Limits.DEFAULT, null, mine);
    mine.clear();
    assertThat(terms.rates()).hasSize(3);
    assertThatThrownBy(() -> terms.rates().clear())
        .isInstanceOf(UnsupportedOperationException.class);
  }
}
