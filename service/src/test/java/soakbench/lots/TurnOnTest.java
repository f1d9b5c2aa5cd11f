package soakbench.lots;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import soakbench.model.Estimate;

/** How far the bias moves from one power-up to the next. */
class TurnOnTest {
  private static final double TRUTH_DPS = 0.02;

  private static List<Part> biases(Random random, int soaks, double spreadDps) {
    List<Part> biases = new ArrayList<>();
    for (int i = 0; i < soaks; i++) {
      double value = 0.3 + spreadDps * random.nextGaussian() + 0.005 * random.nextGaussian();
      biases.add(Part.of(Estimate.of(value, 0.005, 1.96)));
    }
    return biases;
  }

  @Test
  void limitsCoverTheTruthAndTheFigureIsNotBiasedByTheErrors() {
    Random random = new Random(52);
    int covered = 0;
    double sumVariance = 0;
    int runs = 2000;
    for (int run = 0; run < runs; run++) {
      Estimate e = TurnOn.repeatability(biases(random, 8, TRUTH_DPS));
      covered += e.low() <= TRUTH_DPS && e.high() >= TRUTH_DPS ? 1 : 0;
      sumVariance += e.value() * e.value();
    }
    System.out.println("turn-on: " + covered + " of " + runs + " limits cover the truth");
    assertThat(covered).isBetween((int) (0.92 * runs), (int) (0.98 * runs));
    assertThat(Math.sqrt(sumVariance / runs)).isBetween(0.97 * TRUTH_DPS, 1.03 * TRUTH_DPS);
  }

  @Test
  void aUnitThatRepeatsHasLimitsFromZeroOn() {
    Estimate e = TurnOn.repeatability(biases(new Random(53), 6, 0));
    assertThat(e.low()).isZero();
    assertThat(e.high()).isLessThan(0.015);
  }

  @Test
  void fewerThanThreeSoaksGiveAReason() {
    assertThat(TurnOn.repeatability(biases(new Random(54), 2, 0.01)).reason())
        .isEqualTo("needs 3 soaks at this temperature, lying the same way; there are 2");
    assertThat(TurnOn.repeatability(biases(new Random(54), 1, 0.01)).reason())
        .endsWith("there is 1");
  }
}
