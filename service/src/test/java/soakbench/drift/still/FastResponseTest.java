package soakbench.drift.still;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

class FastResponseTest {
  private static final double WHITE_DPS = 0.005;

  /** Two degrees of fall within half a minute, from 31 degC. */
  private static List<FastResponse.Second> fall(double slope, double lag, long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    List<FastResponse.Second> out = new ArrayList<>();
    for (int s = -120; s < 300; s++) {
      double drop = s < 0 ? 0 : -2 * Math.expm1(-s / 30.0);
      double rate = s < 0 ? 0 : -2 / 30.0 * Math.exp(-s / 30.0);
      double bias = 0.4 - slope * drop + lag * rate + WHITE_DPS * random.nextGaussian();
      out.add(new FastResponse.Second(s + 0.5, drop, rate, bias));
    }
    return out;
  }

  private static BiasModel curve(double slope, double slopeSe) {
    return new BiasModel(
        31, new double[] {slope}, new double[][] {{slopeSe * slopeSe}}, 0.4, 0.0003, WHITE_DPS);
  }

  @Test
  void theLagIsFoundAndItsIntervalHolds() {
    int within = 0;
    int runs = 200;
    for (int i = 0; i < runs; i++) {
      double lag = -0.3 + 0.6 * i / (runs - 1);
      FastResponse found = FastResponse.of(fall(0.02, lag, i), 31, curve(0.02, 0.002));
      double miss = Math.abs(found.lagDpsPerCPerS() - lag);
      within += miss < 1.96 * Math.sqrt(found.lagVariance()) ? 1 : 0;
      assertThat(miss).as("lag %s", lag).isLessThan(0.15);
    }
    assertThat(within).as("within 95 %% limits, of %s", runs).isGreaterThan((int) (0.9 * runs));
  }

  @Test
  void aCurveThatIsOffIsCorrectedByTheFall() {
    FastResponse found = FastResponse.of(fall(0.05, 0, 7), 31, curve(0.02, 0.02));
    double after = found.addedDps(1.9, 0);
    // The curve tells -0.038 of the -0.095 that really happen.
    assertThat(after).isBetween(-0.068, -0.046);
  }

  @Test
  void tooFewSecondsLeaveTheBelief() {
    List<FastResponse.Second> few = fall(0.02, 0.2, 1).subList(0, 20);
    assertThat(FastResponse.of(few, 31, curve(0.02, 0.002))).isEqualTo(FastResponse.PRIOR);
  }

  @Test
  void whatIsCountedInTheSlopesVarianceIsNotCountedTwice() {
    FastResponse response = new FastResponse(0, 0, 0.01 * 0.01, 0, 0, 0.01);
    assertThat(response.variance(2, 0, Math.pow(0.01 * 2, 2)))
        .isEqualTo(Math.pow(0.01 * 2, 2), org.assertj.core.data.Offset.offset(1e-15));
    assertThat(response.variance(2, 0, Math.pow(0.03 * 2, 2)))
        .isEqualTo(Math.pow(0.03 * 2, 2), org.assertj.core.data.Offset.offset(1e-15));
  }
}
