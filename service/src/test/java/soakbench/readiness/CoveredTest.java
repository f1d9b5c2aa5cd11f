package soakbench.readiness;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import soakbench.drift.still.BiasModel;
import soakbench.thermal.cooling.Cooling;
import soakbench.thermal.cooling.CoolingFinding;
import soakbench.thermal.cooling.CoolingSecond;

/** Bare for a hundred seconds from second 200 on, then covered: two degrees down and up again. */
class CoveredTest {
  private static final double LAG = 0.12;
  private static final double CHIP_S = 25;
  private static final double NOISE_DPS = 0.012;
  private static final int OPENED_S = 200;
  private static final int CLOSED_S = 300;

  private static double dropC(double tS) {
    double opened = -2 * Math.expm1(-Math.max(0, tS - OPENED_S) / CHIP_S);
    return opened + 2 * Math.expm1(-Math.max(0, tS - CLOSED_S) / CHIP_S);
  }

  private static double rateCPerS(double tS) {
    return dropC(tS - 0.5) - dropC(tS + 0.5);
  }

  private static List<CoolingSecond> seconds(int from, int to, long seed) {
    SplittableRandom random = new SplittableRandom(seed + from);
    List<CoolingSecond> out = new ArrayList<>();
    for (int s = from; s < to; s++) {
      double t = s + 0.5;
      double[] dps = new double[3];
      for (int axis = 0; axis < 3; axis++) {
        dps[axis] = 0.3 - 0.01 * dropC(t) + LAG * rateCPerS(t) + NOISE_DPS * random.nextGaussian();
      }
      out.add(new CoolingSecond(t, 31 - dropC(t), dps, false));
    }
    return out;
  }

  private static CoolingFinding finding(long seed) {
    double[] drop = IntStream.rangeClosed(0, 100).mapToDouble(k -> dropC(200 + k)).toArray();
    double[] rate = IntStream.rangeClosed(0, 100).mapToDouble(k -> -rateCPerS(200 + k)).toArray();
    Cooling cooling = new Cooling(OPENED_S, 31, drop, rate, 0.005, 0.001);
    return new CoolingFinding(
        cooling, seconds(100, CLOSED_S, seed), seconds(CLOSED_S, 310, seed), null);
  }

  private static Covered covered(long seed) {
    Covered covered = new Covered(finding(seed));
    for (CoolingSecond s : seconds(310, 500, seed)) {
      covered.accept(s);
    }
    return covered;
  }

  private static BiasModel[] models() {
    BiasModel[] models = new BiasModel[3];
    double[][] variance = {{4e-6}};
    Arrays.fill(models, new BiasModel(31, new double[] {0.01}, variance, 0.3, 3e-4, NOISE_DPS));
    return models;
  }

  @Test
  void twoMinutesAreHeardIfItLiesStillAndIsNotMissed() {
    assertThat(covered(1).seconds()).hasSize(120);
    Covered moved = new Covered(finding(1));
    assertThat(moved.accept(new CoolingSecond(310.5, 31, new double[3], true))).isFalse();
    assertThat(moved.accept(new CoolingSecond(311.5, 31, new double[3], false))).isFalse();
    assertThat(moved.seconds()).hasSize(10);
    Covered missed = new Covered(finding(1));
    assertThat(missed.accept(new CoolingSecond(314.4, 31, new double[3], false))).isTrue();
    assertThat(missed.accept(new CoolingSecond(319.6, 31, new double[3], false))).isFalse();
    assertThat(missed.seconds()).hasSize(11);
  }

  @Test
  void theWayBackTellsTheLagAsWellAsTheFallAndTheIntervalHolds() {
    int held = 0;
    for (long seed = 0; seed < 20; seed++) {
      Covered covered = covered(seed);
      double alone =
          RecordedCooling.of(covered.finding(), models()).response().get(0).lagVariance();
      RecordedCooling both = RecordedCooling.of(covered.finding(), covered.seconds(), models());
      assertThat(both.cooling()).isSameAs(covered.finding().cooling());
      assertThat(both.response().get(0).lagVariance() / alone).isBetween(0.3, 0.8);
      for (int axis = 0; axis < 3; axis++) {
        double miss = Math.abs(both.response().get(axis).lagDpsPerCPerS() - LAG);
        held += miss < 1.96 * Math.sqrt(both.response().get(axis).lagVariance()) ? 1 : 0;
      }
    }
    assertThat(held).as("of 60").isGreaterThan(52);
  }

  @Test
  void withoutABiasCurveThereIsNoResponse() {
    Covered covered = covered(1);
    assertThat(RecordedCooling.of(covered.finding(), covered.seconds(), null).response()).isNull();
  }
}
