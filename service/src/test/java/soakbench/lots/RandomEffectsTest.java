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

  private static Part part(double value, double se) {
    return Part.of(Estimate.of(value, se, 1.959964));
  }

  /** Log risk ratios by DerSimonian and Laird: -0.7141, standard error 0.1787, tau^2 0.3088. */
  @Test
  void thirteenTrialsGiveThePublishedMeanErrorAndSpread() {
    List<Part> ratios = new ArrayList<>();
    for (int[] t : TRIALS) {
      double treated = t[0] + t[1];
      double controls = t[2] + t[3];
      double variance = 1.0 / t[0] - 1 / treated + 1.0 / t[2] - 1 / controls;
      double ratio = Math.log(t[0] / treated / (t[2] / controls));
      ratios.add(part(ratio, Math.sqrt(variance)));
    }
    RandomEffects together = RandomEffects.of(ratios);
    assertThat(together.mean().value()).isCloseTo(-0.7141, within(0.00005));
    assertThat(together.mean().se()).isCloseTo(0.1787, within(0.00005));
    assertThat(together.betweenVariance()).isCloseTo(0.3088, within(0.00005));
  }

  @Test
  void measurementsThatAgreeAreWeighedByTheirErrorsAlone() {
    RandomEffects together = RandomEffects.of(List.of(part(1.0, 0.1), part(1.1, 0.2)));
    assertThat(together.betweenVariance()).isZero();
    assertThat(together.mean().value()).isCloseTo(1.02, within(1e-12));
    assertThat(together.mean().se()).isCloseTo(Math.sqrt(1 / 125.0), within(1e-12));
  }

  @Test
  void oneAloneStaysWhatItIsAndNoneIsRefused() {
    Estimate one = RandomEffects.of(List.of(part(3, 0.5))).estimate();
    assertThat(one.value()).isEqualTo(3);
    assertThat(one.se()).isCloseTo(0.5, within(1e-12));
    assertThatThrownBy(() -> RandomEffects.of(List.of()))
        .isInstanceOf(IllegalArgumentException.class);
  }

  /** A hundred soaks, each off by the same 0.3 or less beside an error of 0.4 of its own. */
  @Test
  void whatEverySoakRepeatsIsNotAveragedAway() {
    List<Part> soaks = new ArrayList<>();
    for (int i = 0; i < 100; i++) {
      Part.Repeated lag = new Part.Repeated("lag", 0.3);
      soaks.add(Part.of(1, 0.16 + 0.09, 1.959964, List.of(lag)));
    }
    RandomEffects together = RandomEffects.of(soaks);
    assertThat(together.mean().se()).isCloseTo(Math.sqrt(0.09 + 0.16 / 100), within(1e-12));
    assertThat(soaks.get(0).estimate().se()).isCloseTo(0.5, within(1e-12));
    assertThat(soaks.get(0).minus(soaks.get(1)).variance()).isCloseTo(0.32, within(1e-12));
  }

  /** One cause works on two soaks to opposite sides: their mean is free of it. */
  @Test
  void whatWorksOnTwoSoaksToOppositeSidesDropsOutOfTheirMeanAndStaysInTheirDifference() {
    Part up = Part.of(1.2, 0.01 + 0.09, 1.959964, List.of(new Part.Repeated("lag", 0.3)));
    Part down = Part.of(0.8, 0.01 + 0.09, 1.959964, List.of(new Part.Repeated("lag", -0.3)));
    RandomEffects together = RandomEffects.of(List.of(up, down));
    assertThat(together.betweenVariance()).as("the cause explains that they differ").isZero();
    assertThat(together.mean().se()).isCloseTo(0.1 / Math.sqrt(2), within(1e-12));
    assertThat(up.minus(down).variance()).isCloseTo(0.02 + 0.36, within(1e-12));
  }

  /** Units whose soaks differ: five soaks, spread twice the error of each. */
  @Test
  void limitsCoverTheTruthWhereSoaksDiffer() {
    Random random = new Random(51);
    int covered = 0;
    int runs = 2000;
    for (int run = 0; run < runs; run++) {
      List<Part> soaks = new ArrayList<>();
      for (int i = 0; i < 5; i++) {
        double se = 0.05 + 0.1 * random.nextDouble();
        double value = 0.2 * random.nextGaussian() + se * random.nextGaussian();
        soaks.add(part(value, se));
      }
      Estimate together = RandomEffects.of(soaks).estimate();
      covered += together.low() <= 0 && together.high() >= 0 ? 1 : 0;
    }
    System.out.println("random effects: " + covered + " of " + runs + " limits cover the truth");
    assertThat(covered).isBetween((int) (0.92 * runs), (int) (0.98 * runs));
  }
}
