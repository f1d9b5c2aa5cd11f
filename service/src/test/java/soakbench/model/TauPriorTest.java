package soakbench.model;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class TauPriorTest {
  @ParameterizedTest
  @CsvSource({
    "0, 1.5, 3",
    "-800, 1.5, 3",
    "NaN, 1.5, 3",
    "Infinity, 1.5, 3",
    "800, 1, 3",
    "800, 0.9, 3",
    "800, NaN, 3",
    "800, Infinity, 3",
    "800, 1.5, -1"
  })
  void whatIsNoBeliefIsRefusedWithAllThreeNumbers(double medianS, double factor, int soaks) {
    assertThatThrownBy(() -> new TauPrior(medianS, factor, soaks))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining(String.valueOf(medianS))
        .hasMessageContaining("factor " + factor)
        .hasMessageContaining("soaks " + soaks);
  }

  @Test
  void theLeastThatIsOneIsTaken() {
    TauPrior prior = new TauPrior(Double.MIN_VALUE, Math.nextUp(1.0), 1);
    assertThat(prior.soaks()).isEqualTo(1);
  }

  @Test
  void aGeneralBeliefHasLearntFromNoSoak() {
    TauPrior body = TauPrior.general(800, 0.6);
    assertThat(body.soaks()).isZero();
    // e^0.6, by hand.
    assertThat(body.factor()).isCloseTo(1.8221188, within(1e-7));
  }
}
