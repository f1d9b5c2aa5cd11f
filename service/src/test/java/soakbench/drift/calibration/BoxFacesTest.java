package soakbench.drift.calibration;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import soakbench.drift.Bins;

/** Poses of a box by hand: directions of gravity in g. */
class BoxFacesTest {
  private static final double[][] BOX = {
    {0, 0, 1}, {0, 0, -1}, {1, 0, 0}, {-1, 0, 0}, {0, 1, 0}, {0, -1, 0}
  };

  private static double[] tilted(double degrees) {
    double a = Math.toRadians(degrees);
    return new double[] {Math.sin(a), 0, Math.cos(a)};
  }

  @Test
  void aBoxHasSixFacesHoweverOftenItIsLaidOnEach() {
    BoxFaces faces = new BoxFaces();
    assertThat(faces.count()).isZero();
    for (int round = 0; round < 3; round++) {
      for (int i = 0; i < 6; i++) {
        faces.add(BOX[i]);
        assertThat(faces.count()).isEqualTo(round == 0 ? i + 1 : 6);
      }
    }
  }

  /** A box that is turned by some angle is another face only near a right angle. */
  @ParameterizedTest
  @CsvSource({
    "0, 1", "30, 1", "45, 1", "74, 1", "76, 2", "90, 2", "104, 2", "106, 1", "164, 1", "166, 2",
    "180, 2"
  })
  void aFaceMayBeLaidFifteenDegreesSkew(double degrees, int count) {
    BoxFaces faces = new BoxFaces();
    faces.add(tilted(0));
    faces.add(tilted(degrees));
    assertThat(faces.count()).isEqualTo(count);
  }

  /** A hand that waves about holds at many angles, but few of them fit one box. */
  @Test
  void directionsOfNoOneBoxDoNotAddUp() {
    BoxFaces faces = new BoxFaces();
    for (int degrees = 0; degrees < 90; degrees += 10) {
      faces.add(tilted(degrees));
    }
    assertThat(faces.count()).isEqualTo(2);
  }

  @ParameterizedTest
  @CsvSource({"0.79, 0", "0.81, 1", "1.19, 1", "1.21, 0"})
  void whatIsNotGravityAloneIsNoFace(double g, int count) {
    BoxFaces faces = new BoxFaces();
    faces.add(new double[] {0, 0, g});
    assertThat(faces.count()).isEqualTo(count);
  }

  @ParameterizedTest
  @CsvSource({"0.03, true", "0.07, false"})
  void twoSecondsAreOnOneFaceWithinATwentiethOfG(double apart, boolean same) {
    Bins bins = new Bins(5).accelerometer();
    assertThat(
            BoxFaces.same(bins.up(0, 0, 1).second(0, 50, 0), bins.up(apart, 0, 1).second(1, 50, 0)))
        .isEqualTo(same);
  }

  @Test
  void withoutAnAccelerometerAllIsOneFace() {
    Bins bins = new Bins(6);
    assertThat(BoxFaces.same(bins.second(0, 10, 0), bins.second(1, 10, 0))).isTrue();
  }
}
