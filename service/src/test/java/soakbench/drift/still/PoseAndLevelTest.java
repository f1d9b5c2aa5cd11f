package soakbench.drift.still;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import soakbench.drift.Bins;

/** Both sides of what counts as off a level, off a pose, or alive. */
class PoseAndLevelTest {
  private static final double[] TOLERANCE = {0.1, 0.1, 0.1};

  @ParameterizedTest
  @CsvSource({"0.099, false", "0.101, true", "-0.099, false", "-0.101, true"})
  void aStepIsMeasuredFromTheMeanOfTheRecentLevels(double by, boolean stepped) {
    Levels levels = new Levels();
    levels.add(new double[] {0, 1, 4});
    levels.add(new double[] {0, 3, 6});
    assertThat(levels.stepped(new double[] {0, 2, 5 + by}, TOLERANCE)).isEqualTo(stepped);
    assertThat(levels.stepped(new double[] {by, 2, 5}, TOLERANCE)).isEqualTo(stepped);
  }

  @Test
  void onlyTheTenNewestLevelsCount() {
    Levels levels = new Levels();
    for (int i = 0; i < 10; i++) {
      levels.add(new double[] {5, 5, 5});
    }
    for (int i = 0; i < 10; i++) {
      levels.add(new double[] {1, 1, 1});
    }
    assertThat(levels.stepped(new double[] {1, 1, 1}, TOLERANCE)).isFalse();
    levels.restart(new double[] {7, 7, 7});
    assertThat(levels.stepped(new double[] {7, 7, 7}, TOLERANCE)).isFalse();
    assertThat(levels.stepped(new double[] {1, 1, 1}, TOLERANCE)).isTrue();
  }

  @Test
  void withoutALevelNothingStepsOffIt() {
    Levels levels = new Levels();
    assertThat(levels.stepped(new double[] {9, 9, 9}, TOLERANCE)).isFalse();
    levels.add(new double[] {Double.NaN, Double.NaN, Double.NaN});
    assertThat(levels.stepped(new double[] {9, 9, 9}, TOLERANCE)).isFalse();
    levels.add(new double[] {1, 1, 1});
    assertThat(levels.stepped(new double[] {Double.NaN, 1, 1}, TOLERANCE)).isFalse();
  }

  /** A turn of 0.001 g a second outruns a mean that follows with 120 s. */
  @Test
  void aSlowTurnLeavesThePoseAndASlowerDriftDoesNot() {
    double[] tolerance = {0.05, 0.05, 0.05};
    assertThat(leavesAfter(0.001, tolerance)).isBetween(50, 110);
    assertThat(leavesAfter(0.0001, tolerance)).as("lags by 120 s: 0.012 g").isEqualTo(-1);
  }

  private static int leavesAfter(double gPerS, double[] tolerance) {
    PoseLevel pose = new PoseLevel();
    for (int s = 0; s < 3600; s++) {
      double[] up = {gPerS * s, 0, 1};
      if (pose.left(up, tolerance)) {
        return s;
      }
      pose.add(up);
    }
    return -1;
  }

  @Test
  void aPoseWithoutAnAccelerometerIsNeverLeft() {
    PoseLevel pose = new PoseLevel();
    double[] none = {Double.NaN, Double.NaN, Double.NaN};
    pose.add(none);
    assertThat(pose.left(new double[] {1, 0, 0}, TOLERANCE)).isFalse();
    pose.restart(new double[] {0, 0, 1});
    assertThat(pose.left(none, TOLERANCE)).isFalse();
    assertThat(pose.left(new double[] {1, 0, 0}, TOLERANCE)).isTrue();
    pose.restart(new double[] {1, 0, 0});
    assertThat(pose.left(new double[] {1, 0, 0}, TOLERANCE)).isFalse();
  }

  @ParameterizedTest
  @CsvSource({"59, -1", "60, 1"})
  void anAxisOfOneValueIsDeadAfterAMinute(int seconds, int dead) {
    Bins bins = new Bins(3).noise(0.001).step(0.1);
    LivingAxes axes = new LivingAxes();
    for (int s = 0; s < seconds; s++) {
      double moves = s % 2 == 0 ? 0.3 : 0.5;
      axes.accept(bins.bias(moves, 0.4, moves).second(s, 5, 0));
    }
    assertThat(axes.dead()).isEqualTo(dead);
  }

  @Test
  void anAxisThatIsNoisyOrMovesOnceIsAlive() {
    Bins bins = new Bins(4).noise(0.05);
    LivingAxes noisy = new LivingAxes();
    for (int s = 0; s < 100; s++) {
      noisy.accept(bins.second(s, 5, 0));
    }
    assertThat(noisy.dead()).isEqualTo(-1);
  }
}
