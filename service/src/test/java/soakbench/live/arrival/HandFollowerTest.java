package soakbench.live.arrival;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import soakbench.drift.calibration.HandlingProgress;
import soakbench.drift.calibration.HandlingProgress.Face;
import soakbench.lines.Reading;
import soakbench.readiness.HandWords;

class HandFollowerTest {
  private static final long START_US = 1_772_352_000_000_000L;
  private static final int HZ = 10;
  private static final float[] TOP = {0, 0, 1};
  private static final float[] UNDER = {0, 0, -1};
  private static final float[] LEFT = {1, 0, 0};
  private static final float[] RIGHT = {-1, 0, 0};
  private static final float[] BACK = {0, 1, 0};
  private static final float[] FRONT = {0, -1, 0};
  private static final float[] EDGE = {0.7f, 0.7f, 0};
  private static final float[] NONE = {Float.NaN, Float.NaN, Float.NaN};

  private final HandFollower follower = new HandFollower();
  private final Random noise = new Random(7);
  private long nowUs = START_US;
  private long bootUs = START_US - 3_600_000_000L;

  private void still(int seconds, float[] up) {
    seconds(seconds, up, 0.01);
  }

  private void turned(int seconds) {
    seconds(seconds, TOP, 60);
  }

  private void seconds(int seconds, float[] up, double sdDps) {
    for (int i = 0; i < seconds * HZ; i++) {
      float rate = (float) (sdDps * noise.nextGaussian());
      Reading.Channels channels =
          new Reading.Channels(31.2f, rate, -rate, rate, up[0], up[1], up[2]);
      follower.take(
          "T-1",
          new Reading("T-1", new Reading.Stamps(0, 0, -1, (nowUs - bootUs) / 1000, null), channels),
          nowUs);
      nowUs += 1_000_000 / HZ;
    }
  }

  private HandlingProgress progress() {
    // A second counts when the next begins.
    seconds(0, TOP, 0);
    return follower.progress().orElseThrow();
  }

  @Test
  void whatLiesIsInNobodysHand() {
    still(60, TOP);
    assertThat(follower.progress()).isEmpty();
  }

  @Test
  void liftedItIsSaidWithinTwoSeconds() {
    still(10, TOP);
    turned(2);
    assertThat(progress().face()).isZero();
    assertThat(progress().openS()).isEqualTo(1);
    assertThat(HandWords.of(progress(), null)).isEqualTo("moving, 31.2 °C, 1 s in the open");
  }

  @Test
  void facesAreCountedAsTheyAreShownAndSecondsAsTheyPass() {
    still(10, TOP);
    for (float[] up : List.of(TOP, LEFT, BACK)) {
      turned(2);
      still(5, up);
    }
    turned(2);
    still(4, RIGHT);
    assertThat(progress().face()).isEqualTo(4);
    assertThat(progress().stillS()).isEqualTo(3);
    assertThat(progress().faces()).extracting(Face::number).containsExactly(1, 2, 3, 4);
    assertThat(progress().faces()).allMatch(Face::done);
    assertThat(HandWords.of(progress(), 70.9))
        .isEqualTo("face 4 of 6, still 3 s, 31.2 °C, 26 s in the open of about 70");
    assertThat(HandWords.note(progress())).isEmpty();
  }

  @Test
  void whatWasHeldTooShortOrShownTwiceIsNamed() {
    still(10, TOP);
    turned(2);
    still(5, TOP);
    turned(2);
    still(1, LEFT);
    turned(2);
    still(5, UNDER);
    turned(2);
    still(3, TOP);
    assertThat(progress().faces())
        .containsExactly(new Face(1, 5, 2, "+z"), new Face(2, 1, 0, "+x"), new Face(3, 5, 1, "-z"));
    assertThat(HandWords.note(progress()))
        .isEqualTo(
            "held too short, once more: face 2 (+x up); held more than once: face 1 (+z up)");
    turned(2);
    still(3, LEFT);
    assertThat(HandWords.note(progress()))
        .as("now it is held again")
        .isEqualTo("held more than once: face 1 (+z up)");
  }

  @Test
  void aFaceIsNamedByTheAxisThatPointsUpUnlessTheSensorLiesAskewInItsBox() {
    still(10, TOP);
    for (float[] up : List.of(FRONT, RIGHT, new float[] {0.2f, -0.1f, 0.97f})) {
      turned(2);
      still(3, up);
    }
    assertThat(progress().faces()).extracting(Face::up).containsExactly("-y", "-x", "+z");
    still(40, TOP);
    for (float[] up : List.of(EDGE, new float[] {0.7f, -0.7f, 0})) {
      turned(2);
      still(3, up);
    }
    assertThat(progress().faces()).hasSize(2).extracting(Face::up).containsOnlyNulls();
  }

  @Test
  void offAndOnIsMarkedAtTheFaceItLayOnAndIsNoSecondTimeOnThatFace() {
    still(10, TOP);
    for (float[] up : List.of(TOP, LEFT, BACK)) {
      turned(2);
      still(4, up);
    }
    assertThat(HandWords.offAndOn(progress())).isEmpty();
    offAndOn(6);
    still(4, BACK);
    assertThat(progress().offAndOn()).containsExactly(3);
    assertThat(HandWords.offAndOn(progress())).isEqualTo("off and on at face 3");
    assertThat(HandWords.note(progress())).isEmpty();
    assertThat(progress().face()).isEqualTo(3);
    assertThat(progress().openS()).isEqualTo(27);
    turned(2);
    still(3, UNDER);
    assertThat(progress().face()).isEqualTo(4);
  }

  @Test
  void offAndOnBeforeAnyFaceIsMarkedToo() {
    still(10, TOP);
    offAndOn(5);
    turned(2);
    assertThat(HandWords.offAndOn(progress())).isEqualTo("off and on before face 1");
  }

  @Test
  void whereLinesAreMissingNobodyHoldsIt() {
    still(10, TOP);
    nowUs += 8_000_000L;
    still(4, TOP);
    assertThat(follower.progress()).isEmpty();
    still(2, LEFT);
    assertThat(progress().face()).as("on another face it was turned").isEqualTo(2);
  }

  private void offAndOn(int forS) {
    nowUs += 1_000_000L * forS;
    bootUs = nowUs;
  }

  @Test
  void onAnEdgeItLiesAskewAndNoFaceIsCounted() {
    still(10, TOP);
    turned(2);
    still(3, FRONT);
    turned(2);
    still(3, EDGE);
    assertThat(progress().face()).isZero();
    assertThat(HandWords.of(progress(), null)).startsWith("askew, still 2 s");
    assertThat(progress().faces()).hasSize(1);
  }

  @Test
  void withoutAnAccelerometerItCountsSecondsAlone() {
    still(10, NONE);
    turned(2);
    still(4, NONE);
    assertThat(progress().faces()).isEmpty();
    assertThat(HandWords.of(progress(), 50.0))
        .isEqualTo("lying, still 3 s, 31.2 °C, 5 s in the open of about 50");
  }

  @Test
  void itIsOverAfterHalfAMinuteOfLyingOrAStepOfItsClock() {
    still(10, TOP);
    turned(3);
    still(32, TOP);
    assertThat(follower.progress()).isEmpty();
    turned(3);
    assertThat(follower.progress()).isPresent();
    nowUs -= 3_600_000_000L;
    still(2, TOP);
    assertThat(follower.progress()).isEmpty();
  }
}
