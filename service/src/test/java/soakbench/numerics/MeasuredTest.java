package soakbench.numerics;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;

class MeasuredTest {

  @Test
  void theErrorIsTheRootOfTheVariance() {
    assertThat(Measured.ofVariance(7, 9)).isEqualTo(new Measured(7, 3));
  }

  @Test
  void aVarianceThatRoundingLeftBelowNothingIsNone() {
    assertThat(Measured.ofVariance(7, -1e-18)).isEqualTo(new Measured(7, 0));
  }
}
