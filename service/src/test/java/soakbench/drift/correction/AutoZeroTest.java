package soakbench.drift.correction;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import soakbench.drift.still.BiasBlock;

/** Both sides of each limit, by made-up blocks of 30 s. N is 0.01 deg/sqrt(s): zero is 0.042. */
class AutoZeroTest {
  private static final double[] WHITE = {0.01, 0.01, 0.01};

  private final AutoZero returns = new AutoZero();
  private double tS = 15;
  private int pose;

  private void lies(double x, double y, double z) {
    returns.accept(new BiasBlock(tS, 30, 25, new double[] {x, y, z}, pose), WHITE);
    tS += 30;
  }

  private void moved() {
    pose++;
  }

  @Test
  void twiceToZeroFromAfarIsShown() {
    for (int i = 0; i < 2; i++) {
      assertThat(returns.shown()).isFalse();
      lies(0.2, -0.1, 0.05);
      moved();
      lies(0.001, 0.002, -0.001);
    }
    assertThat(returns.shown()).isTrue();
  }

  /** Far is 0.04 for the pose and 0.002 plus four standard errors of one second: 0.082. */
  @ParameterizedTest
  @CsvSource({"0.081, false", "0.083, true", "-0.083, true"})
  void oneAxisMustHaveBeenFar(double beforeDps, boolean shown) {
    for (int i = 0; i < 2; i++) {
      lies(0, beforeDps, 0);
      moved();
      lies(0, 0, 0);
    }
    assertThat(returns.shown()).isEqualTo(shown);
  }

  @ParameterizedTest
  @CsvSource({"0.041, true", "0.043, false"})
  void allAxesMustBeAtZeroAfter(double afterDps, boolean shown) {
    for (int i = 0; i < 2; i++) {
      lies(0.2, 0.2, 0.2);
      moved();
      lies(0, 0, afterDps);
    }
    assertThat(returns.shown()).isEqualTo(shown);
  }

  @Test
  void onceOtherwiseTakesAllBack() {
    lies(0.2, 0, 0);
    moved();
    lies(0, 0, 0);
    lies(0.2, 0, 0);
    moved();
    lies(0.2, 0, 0);
    moved();
    lies(0, 0, 0);
    assertThat(returns.shown()).as("to zero, not to zero, to zero").isFalse();
  }

  @Test
  void withoutAMotionNothingReturns() {
    for (int i = 0; i < 4; i++) {
      lies(0.2, 0, 0);
      lies(0, 0, 0);
    }
    assertThat(returns.shown()).isFalse();
  }

  @Test
  void aPowerOnInBetweenIsAnotherZero() {
    returns.second(0, 0);
    for (int i = 1; i <= 4; i++) {
      lies(0.2, 0, 0);
      moved();
      returns.second(i, tS - 10);
      lies(0, 0, 0);
      moved();
    }
    assertThat(returns.shown()).isFalse();
  }
}
