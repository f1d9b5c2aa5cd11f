package soakbench.drift;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/**
 * How often the figures' 95 % intervals hold, by simulation. Prints what it counts. The seeds are
 * not those that the method was tried on.
 */
class FiguresCoverageTest {

  /** Bounds allow for chance in a few: a true 95 % falls below them less than once in a hundred. */
  @Test
  void theIntervalsOfSomeHoldAndNothingIsClaimedThatCanNotBeKnown() {
    FiguresCount count = FiguresCount.of(610_000, 15);
    System.out.println("15 trackers: " + count);
    assertThat(count.plateau.percent()).isGreaterThanOrEqualTo(84);
    assertThat(count.coefficient.percent()).isGreaterThanOrEqualTo(89);
    assertThat(count.white.percent()).isGreaterThanOrEqualTo(89);
    assertThat(count.heading.percent()).isGreaterThanOrEqualTo(87);
    assertThat(count.floorClaimedOutOfReach.percent()).isLessThan(15);
    assertThat(count.floorError()).isLessThan(0.15);
    assertThat(count.lagClaimedSmooth.held).isZero();
    assertThat(count.hysteresisClaimed.held).isZero();
    assertThat(count.withoutCurve.percent()).isLessThan(10);
  }

  @Test
  @Tag("bench")
  void theIntervalsOfFiveHundredHold() {
    FiguresCount count = FiguresCount.of(620_000, 500);
    System.out.println("500 trackers: " + count);
    assertThat(count.plateau.percent()).isBetween(92.0, 98.0);
    assertThat(count.coefficient.percent()).isBetween(92.0, 98.0);
    assertThat(count.white.percent()).isBetween(92.0, 98.0);
    assertThat(count.heading.percent()).isBetween(92.0, 98.0);
    assertThat(count.floorClaimedOutOfReach.percent()).isLessThan(10);
    assertThat(count.floorError()).isLessThan(0.15);
    assertThat(count.lagClaimedSmooth.held).isZero();
    assertThat(count.hysteresisClaimed.held).isZero();
  }
}
