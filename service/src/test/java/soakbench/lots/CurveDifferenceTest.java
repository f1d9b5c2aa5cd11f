package soakbench.lots;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.api.Test;
import soakbench.drift.curve.RepeatedErrors;
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
    CurveDifference d =
        CurveDifference.of(soak(2, 30, 24, about30), soak(1, 28, 22, about28), null);
    assertThat(d.lowC()).isEqualTo(24);
    assertThat(d.highC()).isEqualTo(30);
    assertThat(d.axes().get(0).greatestDps().value()).isCloseTo(0, within(1e-12));
    assertThat(d.soak()).isEqualTo("KITE-1@1");
  }

  /** 0.02 deg/s per degC more on all axes: +0.02 of each slope, +0.16 over eight degrees. */
  @Test
  void whatTheNewerSoakHasMoreIsPositiveOnEveryAxisAndTheOtherWayNegative() {
    UnitSoak flat = ofSlopes(1, 0.01, -0.03, 0);
    UnitSoak steep = ofSlopes(2, 0.03, -0.01, 0.02);
    UnitSoak flatAgain = ofSlopes(3, 0.01, -0.03, 0);
    CurveDifference up = CurveDifference.of(steep, flat, null);
    CurveDifference down = CurveDifference.of(flatAgain, steep, null);
    assertThat(up.atC()).isEqualTo(30);
    assertThat(up.axes()).extracting(CurveDifference.OfAxis::axis).containsExactly("x", "y", "z");
    for (int i = 0; i < 3; i++) {
      CurveDifference.OfAxis more = up.axes().get(i);
      assertThat(more.tempcoDifferenceDpsPerC().value()).isCloseTo(0.02, within(1e-12));
      assertThat(more.tempcoDifferenceDpsPerC().se())
          .isCloseTo(0.0005 * Math.sqrt(2), within(1e-12));
      assertThat(more.greatestDps().value()).isCloseTo(0.16, within(1e-12));
      assertThat(more.greatestDps().low()).as("limits leave out zero").isPositive();
      assertThat(more.fromC()).isEqualTo(24);
      assertThat(more.toC()).isEqualTo(32);
      CurveDifference.OfAxis less = down.axes().get(i);
      assertThat(less.tempcoDifferenceDpsPerC().value()).isCloseTo(-0.02, within(1e-12));
      assertThat(less.greatestDps().value()).isCloseTo(-0.16, within(1e-12));
    }
  }

  private static UnitSoak ofSlopes(int day, double x, double y, double z) {
    return UnitFixtures.soak(
        day,
        30,
        24,
        32,
        UnitFixtures.axis("x", 0.0005, 0.5, x),
        UnitFixtures.axis("y", 0.0005, -0.2, y),
        UnitFixtures.axis("z", 0.0005, 0.1, z));
  }

  /** 0.01 (T - 30) against 0.01 (T - 30) + 0.001 (T - 30)^2: 0.002 (T - 30) more of slope. */
  @Test
  void slopesAreComparedAtTheTemperatureThatIsNamed() {
    UnitSoak straight = soak(1, 30, 24, new double[] {0, 0.01, 0});
    UnitSoak bent = soak(2, 30, 24, new double[] {0, 0.01, 0.001});
    assertThat(slopeMore(bent, straight, 30.0)).isCloseTo(0, within(1e-12));
    assertThat(slopeMore(bent, straight, 26.0)).isCloseTo(-0.008, within(1e-12));
    CurveDifference outside = CurveDifference.of(bent, straight, 34.0);
    assertThat(outside.extrapolated()).isTrue();
    assertThat(outside.axes().get(0).tempcoDifferenceDpsPerC().value())
        .isCloseTo(0.008, within(1e-12));
    // Up to -0.036 + 0.004 from the turning point at 30 down to 24, and up to 32.
    CurveDifference.OfAxis x = outside.axes().get(0);
    assertThat(x.greatestDps().value()).isCloseTo(-0.036, within(1e-12));
    assertThat(x.fromC()).isEqualTo(24);
    assertThat(x.toC()).isEqualTo(30);
  }

  private static double slopeMore(UnitSoak newer, UnitSoak earlier, double atC) {
    CurveDifference d = CurveDifference.of(newer, earlier, atC);
    assertThat(d.atC()).isEqualTo(atC);
    assertThat(d.extrapolated()).isFalse();
    return d.axes().get(0).tempcoDifferenceDpsPerC().value();
  }

  /**
   * A lag that one standard deviation of makes 0.003 of each slope: in both, so in no difference.
   */
  @Test
  void whatBothSoaksRepeatIsNoPartOfTheirDifference() {
    RepeatedErrors lag = new RepeatedErrors(new double[] {0, 0.003, 0}, new double[3]);
    UnitSoak a = repeating(1, lag);
    UnitSoak b = repeating(2, lag);
    assertThat(AxisCurve.of(30, a.figures().axes().get(0)).tempcoDpsPerC(30).estimate().se())
        .isCloseTo(Math.hypot(0.0005, 0.003), within(1e-12));
    assertThat(CurveDifference.of(b, a, null).axes().get(0).tempcoDifferenceDpsPerC().se())
        .isCloseTo(0.0005 * Math.sqrt(2), within(1e-12));
  }

  private static UnitSoak repeating(int day, RepeatedErrors lag) {
    return UnitFixtures.soak(
        day,
        30,
        24,
        32,
        UnitFixtures.axis("x", 0.0005, lag, 0.5, 0.01),
        UnitFixtures.axis("y", 0.0005, 0, 0.01),
        UnitFixtures.axis("z", 0.0005, 0, 0.01));
  }

  @Test
  void soaksThatShareNoTemperaturesAreNotCompared() {
    CurveDifference d =
        CurveDifference.of(
            soak(2, 40, 35, new double[] {0, 0.03}), soak(1, 30, 24, new double[] {0, 0.03}), null);
    assertThat(d.lowC()).isNull();
    assertThat(d.axes().get(0).greatestDps().reason())
        .startsWith("the soaks share no 0.5 degC: 35.0 to 43.0");
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
              soak(2, 28, 24, drawn(random, truth)), soak(1, 28, 24, drawn(random, truth)), null);
      Estimate x = d.axes().get(0).greatestDps();
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
