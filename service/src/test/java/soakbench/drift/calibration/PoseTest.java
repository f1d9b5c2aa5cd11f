package soakbench.drift.calibration;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import soakbench.drift.Bins;
import soakbench.model.Bin;

/** Poses of a handling, second by second. */
class PoseTest {
  private final Bins bins = new Bins(11).noise(0.01).accelerometer();
  private final List<Bin> handled = new ArrayList<>();
  private int second;

  private void lies(int seconds, double x, double y, double z) {
    bins.up(x, y, z);
    for (int i = 0; i < seconds; i++) {
      handled.add(bins.second(second++, 20, 0));
    }
  }

  private void moves(int seconds) {
    for (int i = 0; i < seconds; i++) {
      handled.add(bins.second(second++, 20, 40));
    }
  }

  private List<Bin> rest() {
    List<Bin> rest = new ArrayList<>();
    bins.up(0, 0, 1);
    for (int i = 0; i < 60; i++) {
      rest.add(bins.second(second++, 20, 0));
    }
    return rest;
  }

  @Test
  void aPoseIsTheMeanOfItsSeconds() {
    bins.bias(0.5, -0.2, 0.1).at(31);
    lies(20, 0, 0.6, 0.8);
    Pose pose = Pose.of(handled);
    assertThat(pose.seconds()).isEqualTo(20);
    assertThat(pose.midS()).isEqualTo(handled.get(0).second() + 10.0);
    assertThat(pose.biasDps()).containsExactly(new double[] {0.5, -0.2, 0.1}, within(0.003));
    assertThat(pose.gravityG()).containsExactly(new double[] {0, 0.6, 0.8}, within(0.001));
    assertThat(pose.temperatureC()).isEqualTo(31);
  }

  @Test
  void withoutAnAccelerometerAPoseHasNoGravity() {
    assertThat(Pose.of(List.of(new Bins(12).second(0, 10, 0))).gravityG()).isNull();
  }

  @Test
  void stillStretchesBetweenTurnsAreThePoses() {
    lies(5, 1, 0, 0);
    moves(3);
    lies(4, 0, 1, 0);
    moves(2);
    lies(6, 0, 0, -1);
    moves(4);
    List<Pose> poses = PoseFinder.of(handled, rest());
    assertThat(poses).extracting(Pose::seconds).containsExactly(5, 4, 6);
    assertThat(poses.get(2).gravityG()[2]).isCloseTo(-1, within(0.01));
  }

  @Test
  void aQuickTurnBetweenTwoSecondsPartsTwoPoses() {
    lies(4, 1, 0, 0);
    lies(3, 0, 1, 0);
    assertThat(PoseFinder.of(handled, rest())).extracting(Pose::seconds).containsExactly(4, 3);
  }

  @Test
  void oneStillSecondIsNoPose() {
    moves(2);
    lies(1, 1, 0, 0);
    moves(2);
    assertThat(PoseFinder.of(handled, rest())).isEmpty();
  }

  @Test
  void aMissingSecondPartsAPose() {
    lies(8, 1, 0, 0);
    handled.remove(4);
    assertThat(PoseFinder.of(handled, rest())).extracting(Pose::seconds).containsExactly(4, 3);
  }

  @Test
  void posesOfAnotherBootHaveAnotherBias() {
    bins.booted(1);
    lies(5, 1, 0, 0);
    bins.booted(2);
    lies(4, 0, 1, 0);
    assertThat(PoseFinder.of(handled, rest())).extracting(Pose::seconds).containsExactly(4);
  }
}
