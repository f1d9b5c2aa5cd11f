package soakbench.drift.still;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import soakbench.drift.Bins;

/** Both sides of what counts as off a level, off a pose, or alive. */
class PoseAndLevelTest {
  private static final double[] TOLERANCE = {0.1, 0.1, 0.1};

  private static final double[] QUIET = {0, 0, 0};

  private static Levels.Second at(double dps) {
    return at(dps, 25);
  }

  private static Levels.Second at(double dps, double temperatureC) {
    return new Levels.Second(new double[] {0, dps, 0}, 10, temperatureC);
  }

  private static boolean leaves(double byDps, double byC, Levels.Fineness fineness) {
    Levels levels = new Levels();
    for (int s = 0; s < 40; s++) {
      assertThat(levels.left(at(1), fineness)).isFalse();
    }
    return levels.left(at(1 + byDps, 25 + byC), fineness);
  }

  /** 0.06 deg/s of another pose, a step of the rates, 0.12 deg/s for each degC. */
  @ParameterizedTest
  @CsvSource({
    "0.059, 0, 0, 0, false", "-0.061, 0, 0, 0, true",
    "0.069, 0, 0.01, 0, false", "0.071, 0, 0.01, 0, true",
    "0.119, 0.5, 0, 0, false", "-0.121, -0.5, 0, 0, true",
    "0.119, 0, 0, 0.5, false", "0.121, 0, 0, 0.5, true"
  })
  void aLevelIsLeftByWhatPoseAndTemperatureCanNotExplain(
      double byDps, double byC, double stepDps, double stepC, boolean left) {
    assertThat(leaves(byDps, byC, new Levels.Fineness(QUIET, stepDps, stepC))).isEqualTo(left);
  }

  /** 5.5 deviations of the difference: of ten readings and of two hundred before them. */
  @Test
  void noiseIsAllowedForByTheReadingsThereAre() {
    double[] sd = {0.1, 0.1, 0.1};
    double edge = 0.06 + 5.5 * 0.1 * Math.sqrt(1 / 10.0 + 1 / 200.0);
    Levels.Fineness noisy = new Levels.Fineness(sd, 0, 0);
    assertThat(leaves(edge - 0.001, 0, noisy)).isFalse();
    assertThat(leaves(edge + 0.001, 0, noisy)).isTrue();
  }

  @Test
  void whatASecondHidesShowsAfterSome() {
    Levels.Fineness noisy = new Levels.Fineness(new double[] {0.1, 0.1, 0.1}, 0, 0);
    Levels levels = new Levels();
    for (int s = 0; s < 40; s++) {
      levels.left(at(1), noisy);
    }
    int hidden = 0;
    while (!levels.left(at(1.18), noisy)) {
      hidden++;
    }
    // Of eight seconds: 0.06 + 5.5 * 0.1 * sqrt(1 / 80 + 1 / 200) = 0.133; of four 0.156.
    assertThat(hidden).isBetween(2, 4);
    assertThat(levels.left(at(1.18), noisy)).isTrue();
  }

  @Test
  void aLevelIsComeBackToUntilAnotherIsTakenForIt() {
    Levels.Fineness fine = new Levels.Fineness(QUIET, 0, 0);
    Levels levels = new Levels();
    for (int s = 0; s < 40; s++) {
      levels.left(at(1), fine);
    }
    for (int s = 0; s < 300; s++) {
      assertThat(levels.left(at(2), fine)).isTrue();
    }
    assertThat(levels.left(at(1), fine)).isFalse();
    assertThat(levels.left(at(2), fine)).isTrue();
    levels.restart();
    assertThat(levels.left(at(2), fine)).isFalse();
    assertThat(levels.left(at(1), fine)).isTrue();
  }

  @Test
  void withoutALevelNothingLeavesIt() {
    assertThat(new Levels().left(at(9), new Levels.Fineness(QUIET, 0, 0))).isFalse();
  }

  @Test
  void aTrackerWithoutThermometerHasALevelToo() {
    Levels.Fineness fine = new Levels.Fineness(QUIET, 0, 0);
    Levels levels = new Levels();
    levels.left(at(1, Double.NaN), fine);
    assertThat(levels.left(at(1.05, Double.NaN), fine)).isFalse();
    assertThat(levels.left(at(1.2, Double.NaN), fine)).isTrue();
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
  @CsvSource({"59, false", "60, true"})
  void anAxisOfOneValueIsDeadAfterAMinute(int seconds, boolean dead) {
    Bins bins = new Bins(3).noise(0.001).step(0.1);
    LivingAxes axes = new LivingAxes();
    for (int s = 0; s < seconds; s++) {
      double moves = s % 2 == 0 ? 0.3 : 0.5;
      axes.accept(bins.bias(moves, 0.4, moves).second(s, 5, 0));
    }
    assertThat(axes.dead()).isEqualTo(dead ? List.of(1) : List.of());
  }

  @Test
  void anAxisThatIsNoisyOrMovesOnceIsAlive() {
    Bins bins = new Bins(4).noise(0.05);
    LivingAxes noisy = new LivingAxes();
    for (int s = 0; s < 100; s++) {
      noisy.accept(bins.second(s, 5, 0));
    }
    assertThat(noisy.dead()).isEmpty();
  }
}
