package soakbench.thermal.cooling;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;

/** A level tracker, uncovered after ten minutes; times are seconds of the record. */
class UncoveringDetectorTest {
  private static final int OPENED_S = 600;

  private final UncoveringDetector watch = new UncoveringDetector();
  private final List<CoolingFinding> findings = new ArrayList<>();
  private final SplittableRandom random = new SplittableRandom(5);
  private double noiseC = 0.005;
  private double stepC;
  private int movedFrom = Integer.MAX_VALUE;
  private int movedTo;

  /** Three degrees of fall with the chip's constant of half a minute, the body behind it. */
  private static double bareC(double tS) {
    double since = Math.max(0, tS - OPENED_S);
    return 31 - 2 * -Math.expm1(-since / 30) - 3 * -Math.expm1(-since / 800);
  }

  /** Covered again at {@code closedS}. */
  private static DoubleUnaryOperator closedAt(double closedS) {
    return t ->
        t <= closedS ? bareC(t) : 31 - (31 - bareC(closedS)) * Math.exp(-(t - closedS) / 40);
  }

  private void feed(DoubleUnaryOperator temperatureC, int fromS, int toS) {
    for (int s = fromS; s < toS; s++) {
      double c = temperatureC.applyAsDouble(s + 0.5) + noiseC * random.nextGaussian();
      double shown = stepC > 0 ? stepC * Math.rint(c / stepC) : c;
      boolean moved = s >= movedFrom && s < movedTo;
      watch
          .accept(new CoolingSecond(s + 0.5, shown, new double[3], moved), stepC)
          .ifPresent(findings::add);
    }
  }

  private CoolingFinding only() {
    assertThat(findings).hasSize(1);
    return findings.get(0);
  }

  @Test
  void aCoolingIsRecordedForFiveMinutes() {
    feed(UncoveringDetectorTest::bareC, 0, 1200);
    Cooling cooling = only().cooling();
    assertThat(cooling.startS()).isBetween(599.5, 602.0);
    assertThat(cooling.startC()).isCloseTo(31, within(0.01));
    assertThat(cooling.lengthS()).isEqualTo(CoolingShape.LONGEST_S);
    for (int s : new int[] {1, 5, 20, 60, 299}) {
      double true0 = 31 - bareC(cooling.startS() + s);
      assertThat(cooling.dropC()[s]).as("drop after %s s", s).isCloseTo(true0, within(0.03));
      double rate = bareC(cooling.startS() + s - 0.5) - bareC(cooling.startS() + s + 0.5);
      assertThat(cooling.rateCPerS()[s]).as("rate after %s s", s).isCloseTo(rate, within(0.01));
    }
  }

  @Test
  void theFallIsNotDatedBeforeTheLid() {
    for (double chipS : new double[] {5, 15, 45}) {
      for (double bodyS : new double[] {400, 900}) {
        UncoveringDetectorTest one = new UncoveringDetectorTest();
        double body = 5;
        // Behind its case the chip follows the body: the fall begins gently.
        one.feed(
            t -> {
              double s = Math.max(0, t - OPENED_S);
              double share = bodyS / (bodyS - chipS);
              double left = share * Math.exp(-s / bodyS) + (1 - share) * Math.exp(-s / chipS);
              return 31 - body * (1 - left);
            },
            0,
            1200);
        double startS = one.only().cooling().startS();
        assertThat(startS).as("chip %s s, body %s s", chipS, bodyS).isBetween(599.0, 625.0);
      }
    }
  }

  @Test
  void aLidOpenForTenSecondsIsTooShort() {
    feed(closedAt(OPENED_S + 10), 0, 1200);
    assertThat(findings).allSatisfy(f -> assertThat(f.cooling()).isNull());
    assertThat(findings)
        .allSatisfy(f -> assertThat(f.reason()).contains("open for only", "five minutes"));
  }

  @Test
  void coveredAgainAfterTwoMinutesItIsRecordedSoFar() {
    feed(closedAt(OPENED_S + 120), 0, 1200);
    assertThat(only().cooling().lengthS()).isBetween(112, 122);
  }

  @Test
  void movedWhileOpenItIsRefusedWithItsReason() {
    movedFrom = OPENED_S + 25;
    movedTo = OPENED_S + 28;
    feed(UncoveringDetectorTest::bareC, 0, 1200);
    assertThat(only().cooling()).isNull();
    assertThat(only().reason()).contains("moved");
  }

  @Test
  void theHandThatTakesTheCoverOffDoesNotSpoilIt() {
    movedFrom = OPENED_S - 2;
    movedTo = OPENED_S + 2;
    feed(UncoveringDetectorTest::bareC, 0, 1200);
    assertThat(only().cooling()).isNotNull();
  }

  @Test
  void aCoarseThermometerIsRefusedWithItsReason() {
    stepC = 0.5;
    feed(UncoveringDetectorTest::bareC, 0, 1200);
    assertThat(only().cooling()).isNull();
    assertThat(only().reason()).contains("steps of 0.50 degC");
  }

  @Test
  void aDropoutInTheOpenIsRefusedWithItsReason() {
    feed(UncoveringDetectorTest::bareC, 0, OPENED_S + 30);
    feed(UncoveringDetectorTest::bareC, OPENED_S + 50, 1200);
    assertThat(findings).isNotEmpty().allSatisfy(f -> assertThat(f.cooling()).isNull());
    assertThat(findings.get(0).reason()).contains("nothing was heard for 21 s");
  }

  @Test
  void secondsMissingHereAndThereAreRefused() {
    for (int s = 0; s < 1200; s++) {
      if (s < OPENED_S || s % 4 != 0) {
        feed(UncoveringDetectorTest::bareC, s, s + 1);
      }
    }
    assertThat(only().cooling()).isNull();
    assertThat(only().reason()).contains("seconds are missing");
  }

  @Test
  void uncoveredWhileItStillWarmedItsDropIsThatFromWhereItWouldHaveBeen() {
    // Half a degree a minute, which goes on beside the fall.
    feed(t -> 30 + 0.5 * (t - OPENED_S) / 60 + bareC(t) - 31, 0, 1200);
    Cooling cooling = only().cooling();
    assertThat(cooling.startC()).isCloseTo(30, within(0.05));
    for (int s : new int[] {20, 60}) {
      double drop = 31 - bareC(cooling.startS() + s);
      assertThat(cooling.dropC()[s]).as("drop after %s s", s).isCloseTo(drop, within(0.05));
    }
  }

  @Test
  void aRoomsHeatingCycleIsNoUncovering() {
    feed(t -> 31 + 0.5 * Math.sin(2 * Math.PI * t / 1200), 0, 7200);
    assertThat(findings.size()).as("findings").isZero();
  }

  @Test
  void aColdSoakAndNoiseAreNoUncovering() {
    noiseC = 0.05;
    feed(t -> 31 - 9 * Math.exp(-t / 700), 0, 7200);
    assertThat(findings.size()).as("findings").isZero();
  }
}
