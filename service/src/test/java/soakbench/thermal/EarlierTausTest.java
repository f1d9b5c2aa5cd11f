package soakbench.thermal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import soakbench.model.Estimate;
import soakbench.model.TauPrior;

class EarlierTausTest {
  private static Estimate own(double tauS) {
    return Estimate.of(tauS, 0.02 * tauS, tauS * 0.96, tauS * 1.04);
  }

  /** The interval is what is believed of any body. */
  private static Estimate believed(double tauS) {
    return Estimate.of(tauS, 0.6 * tauS, tauS / 3.2, tauS * 3.2);
  }

  private static Optional<TauPrior> prior(Estimate... tausS) {
    return EarlierTaus.prior(List.of(tausS));
  }

  @Test
  void twoSoaksSayNothingAndThreeDo() {
    assertThat(prior(own(700), own(800))).isEmpty();
    TauPrior prior = prior(own(700), own(900), own(800)).orElseThrow();
    assertThat(prior.medianS()).isCloseTo(800, within(1e-9));
    assertThat(prior.soaks()).isEqualTo(3);
  }

  @Test
  void aConstantThatRestsOnTheBeliefDoesNotCount() {
    assertThat(EarlierTaus.own(own(700))).isTrue();
    assertThat(EarlierTaus.own(believed(700))).isFalse();
    assertThat(EarlierTaus.own(Estimate.unknown("no curve"))).isFalse();
    assertThat(prior(own(700), own(800), believed(760), Estimate.unknown("no curve"))).isEmpty();
  }

  @Test
  void soaksThatAgreeByChanceStillLeaveTheFloorOfDoubt() {
    TauPrior prior = prior(own(800), own(800), own(800)).orElseThrow();
    assertThat(Math.log(prior.factor())).isCloseTo(EarlierTaus.LEAST_LOG_SD, within(1e-12));
  }

  @Test
  void theSpreadIsThatOfTheSoaks() {
    // Logarithms 0, ±0.3, ±0.6 about ln 800: median absolute deviation 0.3, normal factor 1.4826.
    List<Estimate> tausS =
        Stream.of(0.0, 0.3, -0.3, 0.6, -0.6).map(z -> own(800 * Math.exp(z))).toList();
    TauPrior prior = EarlierTaus.prior(tausS).orElseThrow();
    double sd = 1.4826 * 0.3 * Math.sqrt(1 + 1 / 5.0);
    assertThat(prior.medianS()).isCloseTo(800, within(1e-9));
    assertThat(Math.log(prior.factor())).isCloseTo(sd, within(1e-12));
  }

  @Test
  void oneSoakWithAWindowOpenHardlyMatters() {
    TauPrior without = prior(own(780), own(800), own(820), own(790)).orElseThrow();
    TauPrior with = prior(own(780), own(800), own(820), own(790), own(250)).orElseThrow();
    assertThat(with.medianS()).isCloseTo(without.medianS(), within(20.0));
    assertThat(with.factor()).isEqualTo(without.factor());
  }

  @Test
  void onlyTheNewestTwentyCount() {
    List<Estimate> tausS = new ArrayList<>(Collections.nCopies(EarlierTaus.MOST, own(600)));
    tausS.addAll(Collections.nCopies(100, own(1200)));
    TauPrior prior = EarlierTaus.prior(tausS).orElseThrow();
    assertThat(prior.medianS()).isCloseTo(600, within(1e-9));
    assertThat(prior.soaks()).isEqualTo(20);
  }
}
