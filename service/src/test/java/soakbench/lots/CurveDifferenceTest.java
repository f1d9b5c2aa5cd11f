package soakbench.lots;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.api.Test;
import soakbench.model.Estimate;

/** The curves of two soaks held against each other. */
class CurveDifferenceTest {
  private static UnitSoak soak(int day, double operatingC, double lowC, double[] x) {
    return UnitFixtures.soak(
        day,
        operatingC,
        lowC,
        lowC + 8,
        UnitFixtures.axis("x", 0.0005, x),
        UnitFixtures.axis("y", 0.0005, 0, 0.01),
        UnitFixtures.axis("z", 0.0005, 0, 0.01));
  }

  /** The same cubic law about two reference temperatures, with another offset. */
  @Test
  void oneLawAboutTwoTemperaturesIsOneShape() {
    double[] about30 = {0.3, 0.02, 0.001, -0.0002};
    // (T - 30) = (T - 28) - 2, expanded by hand.
    double[] about28 = {
      0.9, 0.02 - 2 * 2 * 0.001 - 3 * 4 * 0.0002, 0.001 + 3 * 2 * 0.0002, -0.0002
    };
    CurveDifference d = CurveDifference.of(soak(2, 30, 24, about30), soak(1, 28, 22, about28));
    assertThat(d.lowC()).isEqualTo(24);
    assertThat(d.highC()).isEqualTo(30);
    assertThat(d.axesDps().get(0).value()).isCloseTo(0, within(1e-12));
    assertThat(d.soak()).isEqualTo("KITE-1@1");
  }

  @Test
  void anotherSlopeIsAnotherShapeByTheSlopeTimesHalfTheRange() {
    CurveDifference d =
        CurveDifference.of(
            soak(2, 30, 24, new double[] {0, 0.03}), soak(1, 30, 24, new double[] {1, 0.02}));
    Estimate x = d.axesDps().get(0);
    assertThat(Math.abs(x.value())).isCloseTo(0.04, within(1e-12));
    assertThat(x.low() > 0 || x.high() < 0).as("limits leave out zero").isTrue();
    assertThat(d.axesDps().get(1).value()).isCloseTo(0, within(1e-12));
  }

  @Test
  void soaksThatShareNoTemperaturesAreNotCompared() {
    CurveDifference d =
        CurveDifference.of(
            soak(2, 40, 35, new double[] {0, 0.03}), soak(1, 30, 24, new double[] {0, 0.03}));
    assertThat(d.lowC()).isNull();
    assertThat(d.axesDps().get(0).reason()).startsWith("the soaks share no 0.5 degC: 35.0 to 43.0");
  }

  /** Two soaks of one law, each coefficient with the error that it claims. */
  @Test
  void equalLawsAreToldApartInAtMostFiveOfAHundred() {
    Random random = new Random(55);
    double[] truth = {0.3, 0.02, 0.001};
    int apart = 0;
    int runs = 2000;
    for (int run = 0; run < runs; run++) {
      CurveDifference d =
          CurveDifference.of(
              soak(2, 28, 24, drawn(random, truth)), soak(1, 28, 24, drawn(random, truth)));
      Estimate x = d.axesDps().get(0);
      apart += x.low() > 0 || x.high() < 0 ? 1 : 0;
    }
    System.out.println("curves: " + apart + " of " + runs + " equal pairs told apart");
    assertThat(apart).isBetween(1, (int) (0.05 * runs));
  }

  private static double[] drawn(Random random, double[] truth) {
    double[] drawn = truth.clone();
    for (int i = 0; i < drawn.length; i++) {
      drawn[i] += 0.0005 * random.nextGaussian();
    }
    return drawn;
  }
}
