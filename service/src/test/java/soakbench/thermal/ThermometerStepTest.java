package soakbench.thermal;

import static org.assertj.core.api.Assertions.assertThat;

import org.assertj.core.data.Offset;
import org.junit.jupiter.api.Test;

class ThermometerStepTest {
  private final ThermometerStep step = new ThermometerStep();

  @Test
  void nothingHidesBeforeAStepIsSeen() {
    assertThat(step.blindC()).isZero();
    step.accept(21, 0, Double.NaN);
    step.accept(21, 0, Double.NaN);
    assertThat(step.blindC()).isZero();
    assertThat(step.coarse()).isFalse();
  }

  @Test
  void aQuietThermometerShowsItsStepFromOneSecondToTheNext() {
    for (int s = 0; s < 100; s++) {
      step.accept(s < 50 ? 21 : 21.5, 0, Double.NaN);
    }
    assertThat(step.blindC()).isEqualTo(0.5, Offset.offset(1e-9));
    assertThat(step.coarse()).isTrue();
  }

  @Test
  void aStepSeenWithinASecondCounts() {
    for (int s = 0; s < 100; s++) {
      step.accept(21, 0, s == 40 ? 0.5 : Double.NaN);
    }
    assertThat(step.blindC()).isEqualTo(0.5, Offset.offset(1e-9));
  }

  @Test
  void noiseThatCarriesOverTheStepsLeavesNothingHidden() {
    for (int s = 0; s < 300; s++) {
      step.accept(21, 0.2, 0.5);
    }
    assertThat(step.blindC()).isZero();
  }

  @Test
  void aFineStepIsNotCoarse() {
    for (int s = 0; s < 300; s++) {
      step.accept(21, 0, 0.0078);
    }
    assertThat(step.blindC()).isEqualTo(0.0078, Offset.offset(1e-9));
    assertThat(step.coarse()).isFalse();
  }
}
