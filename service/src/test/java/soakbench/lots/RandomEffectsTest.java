package soakbench.lots;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import soakbench.model.Estimate;

/** Several soaks of one unit put together. */
class RandomEffectsTest {
  /**
   * Thirteen vaccine trials (Colditz et al., 1994, JAMA 271, 698 to 702): cases and others among
   * the treated, cases and others among the controls. Counts and results are from memory; that they
   * agree to every printed digit is what holds them.
   */
  private static final int[][] TRIALS = {
    {4, 119, 11, 128}, {6, 300, 29, 274}, {3, 228, 11, 209}, {62, 13536, 248, 12619},
    {33, 5036, 47, 5761}, {180, 1361, 372, 1079}, {8, 2537, 10, 619}, {505, 87886, 499, 87892},
    {29, 7470, 45, 7232}, {17, 1699, 65, 1600}, {186, 50448, 141, 27197}, {5, 2493, 3, 2338},
    {27, 16886, 29, 17825}
  };

  /** Log risk ratios by DerSimonian and Laird: -0.7141, standard error 0.1787, tau^2 0.3088. */
  @Test
  void thirteenTrialsGiveThePublishedMeanErrorAndSpread() {
    List<Estimate> ratios = new ArrayList<>();
    for (int[] t : TRIALS) {
      double treated = t[0] + t[1];
      double controls = t[2] + t[3];
      double variance = 1.0 / t[0] - 1 / treated + 1.0 / t[2] - 1 / controls;
      double ratio = Math.log(t[0] / treated / (t[2] / controls));
      ratios.add(Estimate.of(ratio, Math.sqrt(variance), 1.96));
    }
    RandomEffects together = RandomEffects.of(ratios);
    assertThat(together.mean().value()).isCloseTo(-0.7141, within(0.00005));
    assertThat(together.mean().se()).isCloseTo(0.1787, within(0.00005));
    assertThat(together.betweenVariance()).isCloseTo(0.3088, within(0.00005));
  }

  @Test
  void measurementsThatAgreeAreWeighedByTheirErrorsAlone() {
    RandomEffects together =
        RandomEffects.of(List.of(Estimate.of(1.0, 0.1, 1.96), Estimate.of(1.1, 0.2, 1.96)));
    assertThat(together.betweenVariance()).isZero();
    assertThat(together.mean().value()).isCloseTo(1.02, within(1e-12));
    assertThat(together.mean().se()).isCloseTo(Math.sqrt(1 / 125.0), within(1e-12));
  }

  @Test
  void oneAloneStaysWhatItIsAndNoneIsRefused() {
    Estimate one = RandomEffects.of(List.of(Estimate.of(3, 0.5, 1.96))).estimate();
    assertThat(one.value()).isEqualTo(3);
    assertThat(one.se()).isCloseTo(0.5, within(1e-12));
    assertThatThrownBy(() -> RandomEffects.of(List.of()))
        .isInstanceOf(IllegalArgumentException.class);
  }

  /** Units whose soaks differ: five soaks, spread twice the error of each. */
  @Test
  void limitsCoverTheTruthWhereSoaksDiffer() {
    Random random = new Random(51);
    int covered = 0;
    int runs = 2000;
    for (int run = 0; run < runs; run++) {
      List<Estimate> soaks = new ArrayList<>();
      for (int i = 0; i < 5; i++) {
        double se = 0.05 + 0.1 * random.nextDouble();
        double value = 0.2 * random.nextGaussian() + se * random.nextGaussian();
        soaks.add(Estimate.of(value, se, 1.96));
      }
      Estimate together = RandomEffects.of(soaks).estimate();
      covered += together.low() <= 0 && together.high() >= 0 ? 1 : 0;
    }
    System.out.println("random effects: " + covered + " of " + runs + " limits cover the truth");
    assertThat(covered).isBetween((int) (0.92 * runs), (int) (0.98 * runs));
  }
}
