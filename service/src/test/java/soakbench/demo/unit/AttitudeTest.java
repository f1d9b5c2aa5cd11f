package soakbench.demo.unit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

class AttitudeTest {
  private static Motion turn(Motion.Kind kind, double fromS, double angleDeg, double... axis) {
    return new Motion(fromS, fromS + 4, kind, axis, angleDeg, 0);
  }

  private static Attitude after(Motion... motions) {
    Attitude attitude = new Attitude(List.of(motions));
    attitude.advanceTo(1000);
    return attitude;
  }

  private static double[] earth(Attitude attitude) {
    return new double[] {attitude.earthDps(0), attitude.earthDps(1), attitude.earthDps(2)};
  }

  private static double dot(double[] a, double[] b) {
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
  }

  /** WGS 84 (NGA.STND.0036): 7.292115e-5 rad/s. */
  @Test
  void theEarthTurnsAtItsPublishedRate() {
    assertThat(Attitude.EARTH_DPS).isCloseTo(Math.toDegrees(7.292115e-5), within(1e-7));
    double[] earth = earth(after());
    assertThat(Math.sqrt(dot(earth, earth))).isCloseTo(Attitude.EARTH_DPS, within(1e-12));
  }

  /** The vertical part is the rate times the sine of the latitude: a pendulum's turning. */
  @Test
  void flatOnItsBackUpIsZAndTheEarthsVerticalPartIsThere() {
    Attitude flat = after();
    assertThat(flat.upG()).containsExactly(0, 0, 1);
    assertThat(flat.earthDps(2))
        .isCloseTo(Attitude.EARTH_DPS * Math.sin(Math.toRadians(52)), within(1e-12));
    assertThat(flat.moving()).isFalse();
  }

  /** By the right hand: turned up by 90 degrees about x, the y axis points up, and so on. */
  @ParameterizedTest
  @CsvSource({
    "90, 1, 0, 0, 0, 1, 0",
    "-90, 1, 0, 0, 0, -1, 0",
    "90, 0, 1, 0, -1, 0, 0",
    "180, 0, 1, 0, 0, 0, -1",
    "90, 0, 0, 1, 0, 0, 1"
  })
  void aTurnPutsAnotherAxisUp(
      double angleDeg, double ax, double ay, double az, double x, double y, double z) {
    double[] up = after(turn(Motion.Kind.TURN, 0, angleDeg, ax, ay, az)).upG();
    assertThat(up).containsExactly(new double[] {x, y, z}, within(1e-12));
  }

  @Test
  void turnsFollowEachOtherInTheTrackersOwnFrame() {
    Attitude attitude =
        after(turn(Motion.Kind.TURN, 0, 90, 1, 0, 0), turn(Motion.Kind.TURN, 10, 90, 0, 0, 1));
    assertThat(attitude.upG()).containsExactly(new double[] {1, 0, 0}, within(1e-12));
  }

  @Test
  void noTurnChangesHowHighTheEarthsAxisStands() {
    Motion[] motions = new Motion[20];
    for (int i = 0; i < motions.length; i++) {
      motions[i] = turn(Motion.Kind.TURN, 10 * i, 37 + 11 * i, 0.6, 0, 0.8);
    }
    Attitude attitude = new Attitude(List.of(motions));
    for (double t = 0; t < 220; t += 0.25) {
      attitude.advanceTo(t);
      assertThat(dot(attitude.upG(), attitude.upG())).isCloseTo(1, within(1e-9));
      assertThat(dot(attitude.upG(), earth(attitude)))
          .isCloseTo(Attitude.EARTH_DPS * Math.sin(Math.toRadians(52)), within(1e-12));
    }
  }

  @ParameterizedTest
  @EnumSource(Motion.Kind.class)
  void aMotionsRatesSumUpToItsAngleAndEndWithIt(Motion.Kind kind) {
    Attitude attitude = new Attitude(List.of(turn(kind, 10, 90, 0, 1, 0)));
    double angleDeg = 0;
    double otherDeg = 0;
    for (int i = 0; i < 20_000; i++) {
      attitude.advanceTo(i / 1000.0);
      assertThat(attitude.moving()).isEqualTo(i >= 10_000 && i < 14_000);
      angleDeg += attitude.rateDps(1) / 1000;
      otherDeg += attitude.rateDps(0) / 1000;
    }
    assertThat(angleDeg).isCloseTo(90, within(0.01));
    assertThat(otherDeg).isCloseTo(0, within(0.01));
    assertThat(attitude.rateDps(1)).isZero();
  }

  @Test
  void aBurstShakesAboutAnotherAxisAndATurnDoesNot() {
    for (Motion.Kind kind : Motion.Kind.values()) {
      Attitude attitude = new Attitude(List.of(turn(kind, 0, 90, 0, 1, 0)));
      double most = 0;
      for (double t = 0; t < 4; t += 0.01) {
        attitude.advanceTo(t);
        most = Math.max(most, Math.abs(attitude.rateDps(0)));
      }
      assertThat(most > 50).as(kind + ": " + most).isEqualTo(kind == Motion.Kind.BURST);
    }
  }
}
