package soakbench.thermal;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import soakbench.numerics.Noises;

/** The cumulative sum by hand: each error counts beyond 0.75 deviations, over 8 is a break. */
class BreakDetectorTest {
  private final BreakDetector detector = new BreakDetector();

  private int blocks(int count, double errorC) {
    int back = 0;
    for (int i = 0; i < count; i++) {
      back = detector.accept(errorC, 0.1, 0);
    }
    return back;
  }

  @Test
  void twoDeviationsAreABreakAfterSevenBlocks() {
    // Each adds 1.25: 7.5 after six, 8.75 after seven.
    assertThat(blocks(6, 0.2)).isZero();
    assertThat(blocks(1, 0.2)).isEqualTo(7);
  }

  @Test
  void downwardsIsAsGoodAsUpwards() {
    assertThat(blocks(6, -0.2)).isZero();
    assertThat(blocks(1, -0.2)).isEqualTo(7);
  }

  @Test
  void oneGreatErrorIsABreakAtOnce() {
    assertThat(blocks(1, 0.87)).isZero();
    assertThat(new BreakDetector().accept(0.88, 0.1, 0)).isEqualTo(1);
  }

  @Test
  void threeQuartersOfADeviationNeverAddUp() {
    assertThat(blocks(1000, 0.0749)).isZero();
    assertThat(blocks(6, 0.2)).isZero();
  }

  @Test
  void anErrorOfTheOtherSignLetsTheSumSink() {
    blocks(6, 0.2);
    // 7.5 less 2.75 is 4.75; three more add up to 8.5, nine blocks and this one since it began.
    assertThat(blocks(1, -0.2)).isZero();
    assertThat(blocks(2, 0.2)).isZero();
    assertThat(blocks(1, 0.2)).isEqualTo(10);
  }

  @Test
  void whatTheThermometersStepExplainsDoesNotCount() {
    for (int i = 0; i < 100; i++) {
      assertThat(detector.accept(0.3, 0.1, 0.25)).isZero();
    }
    assertThat(blocks(6, 0.2)).isZero();
    assertThat(blocks(1, 0.2)).isEqualTo(7);
  }

  @Test
  void afterABreakTheSumBeginsAnew() {
    assertThat(blocks(7, 0.2)).isEqualTo(7);
    assertThat(blocks(6, 0.2)).isZero();
    assertThat(blocks(1, 0.2)).isEqualTo(7);
  }

  @Test
  void independentErrorsSeldomBreakIt() {
    int breaks = 0;
    for (double error : Noises.white(20_000, 0.1, 11)) {
      breaks += detector.accept(error, 0.1, 0) > 0 ? 1 : 0;
    }
    // Siegmund 1985 (from memory) for k 0.75, h 8: one in some 800,000 blocks a side.
    assertThat(breaks).isZero();
  }
}
