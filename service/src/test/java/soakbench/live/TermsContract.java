package soakbench.live;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import soakbench.live.SoakStore.Unit;
import soakbench.model.Limits;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.model.TauPrior;
import soakbench.model.Tracker.Rates;

/** What every store must do with what soaks are judged by. */
interface TermsContract extends StoreInTest {
  @Test
  default void theTermsOfASoakComeBackExactlyAndAreReplacedOnlyByItsOwn() {
    SoakTerms plain = SoakTerms.of(LimitsContract.odd(1));
    SoakTerms learnt =
        new SoakTerms(LimitsContract.odd(Math.PI), new TauPrior(1234.5678, 1.1 + 0.2, 7))
            .declared(-5, Rates.FOLLOWS)
            .declared(1_772_352_000L, Rates.UNKNOWN)
            .declared(1_772_352_001L, Rates.RAW);
    run(u -> u.writeTerms(tracker() + "@a", plain));
    run(u -> u.writeTerms(tracker() + "@b", learnt));
    assertThat(terms(tracker() + "@a")).contains(plain);
    assertThat(terms(tracker() + "@b")).contains(learnt);
    run(u -> u.writeTerms(Map.of()));
    run(u -> u.writeTerms(Map.of(tracker() + "@b", plain, tracker() + "@a", learnt)));
    assertThat(terms(tracker() + "@a")).contains(learnt);
    assertThat(terms(tracker() + "@b")).contains(plain);
  }

  @Test
  default void aLimitThatIsLeftOpenStaysOpen() {
    assertThat(Limits.DEFAULT.nearUseLimitDegPerMin()).isNull();
    run(u -> u.writeTerms(tracker(), SoakTerms.of(Limits.DEFAULT)));
    assertThat(terms(tracker())).contains(SoakTerms.of(Limits.DEFAULT));
  }

  @Test
  default void onlySoaksWithoutTermsAdoptSome() {
    Soak with = soak("a", 0, 100, null);
    Soak without = soak("b", 200, 300, null);
    run(u -> List.of(with, without).forEach(u::writeSoak));
    run(u -> u.writeTerms(with.id(), SoakTerms.of(LimitsContract.odd(1))));
    SoakTerms adopted = new SoakTerms(LimitsContract.odd(2), new TauPrior(600, 1.3, 2));
    run(u -> u.adoptTerms(adopted));
    run(u -> u.adoptTerms(SoakTerms.of(LimitsContract.odd(3))));
    assertThat(terms(with.id())).contains(SoakTerms.of(LimitsContract.odd(1)));
    assertThat(terms(without.id())).contains(adopted);
  }

  @Test
  default void theTermsGoWithTheirSoakAndWithAUnitThatIsNotCommitted() {
    Soak soak = soak("a", 0, 100, null);
    run(u -> u.writeSoak(soak));
    run(u -> u.writeTerms(soak.id(), SoakTerms.of(LimitsContract.odd(1))));
    try (Unit unit = store().begin()) {
      unit.writeTerms(soak.id(), SoakTerms.of(LimitsContract.odd(2)));
      assertThat(unit.terms(soak.id())).contains(SoakTerms.of(LimitsContract.odd(2)));
    }
    assertThat(terms(soak.id())).contains(SoakTerms.of(LimitsContract.odd(1)));
    run(u -> u.deleteSoak(soak.id()));
    assertThat(terms(soak.id())).isEmpty();
  }

  private Optional<SoakTerms> terms(String soak) {
    return read(u -> u.terms(soak));
  }
}
