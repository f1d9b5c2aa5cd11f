package soakbench.lots;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import soakbench.drift.curve.BiasCurve;
import soakbench.drift.curve.RepeatedErrors;

/** One curve of all soaks of a unit. */
class UnitCurveTest {
  private static final double[] FLAT = {0, 0, 1};
  private static final double[] ON_ITS_SIDE = {1, 0, 0};

  private static UnitSoak soak(
      int day, double operatingC, double[] face, RepeatedErrors repeated, double... c) {
    AxisFigures axis = UnitFixtures.axis("x", 0.001, repeated, c);
    return UnitFixtures.soak(day, operatingC, operatingC - 8, operatingC, face, axis, axis, axis);
  }

  private static RepeatedErrors none(int powers) {
    return new RepeatedErrors(new double[powers + 1], new double[powers + 1]);
  }

  private static BiasCurve.Axis x(UnitSoak... newestFirst) {
    return UnitCurve.of(List.of(newestFirst), null, null, 9).axes().get(0);
  }

  /** 0.3 + 0.02 (T - 30) + 0.001 (T - 30)^2, told about 30 and about 28. */
  @Test
  void oneLawToldAboutTwoTemperaturesComesOutAsThatLaw() {
    double at28 = 0.3 - 2 * 0.02 + 4 * 0.001;
    BiasCurve.Axis both =
        x(
            soak(2, 30, FLAT, none(3), 0.3, 0.02, 0.001),
            soak(1, 28, FLAT, none(3), at28, 0.02 - 4 * 0.001, 0.001));
    assertThat(both.powers().coefficients())
        .containsExactly(new double[] {0.3, 0.02, 0.001, 0}, within(1e-12));
    BiasCurve curve =
        UnitCurve.of(
            List.of(
                soak(2, 30, FLAT, none(3), 0.3, 0.02, 0.001),
                soak(1, 28, FLAT, none(3), at28, 0.016, 0.001)),
            null,
            null,
            9);
    assertThat(curve.temperatures().rangeC()).containsExactly(20, 30);
    assertThat(both.bands().get(0).temperatureC()).isEqualTo(20);
    assertThat(both.bands().get(0).biasDps()).isCloseTo(0.3 - 0.2 + 0.1, within(1e-12));
  }

  @Test
  void ownErrorsShrinkWithTheSoaksAndRepeatedOnesStay() {
    RepeatedErrors lag = new RepeatedErrors(new double[] {0, 0.002, 0}, new double[] {0, 0, -1e-4});
    UnitSoak[] four = new UnitSoak[4];
    for (int i = 0; i < 4; i++) {
      four[i] = soak(4 - i, 30, FLAT, lag, 0.3, 0.02);
    }
    double[][] c = x(four).powers().covariance();
    assertThat(c[0][0]).isCloseTo(1e-6 / 4, within(1e-15));
    assertThat(c[1][1]).isCloseTo(1e-6 / 4 + 4e-6, within(1e-15));
    assertThat(c[2][2]).isCloseTo(1e-8, within(1e-15));
    assertThat(x(four).powers().repeated().lag()[1]).isCloseTo(0.002, within(1e-12));
  }

  @Test
  void theLevelIsThatOfTheSoaksThatLayLikeTheNewestTheShapeThatOfAll() {
    BiasCurve.Axis both =
        x(soak(2, 30, FLAT, none(2), 0.3, 0.020), soak(1, 30, ON_ITS_SIDE, none(2), 0.9, 0.022));
    assertThat(both.powers().coefficients()[0]).isCloseTo(0.3, within(1e-12));
    assertThat(both.powers().coefficients()[1]).isCloseTo(0.021, within(1e-12));
  }

  @Test
  void aSoakOfFewerPowersCountsLittleWhereItKnowsLittle() {
    RepeatedErrors blind = new RepeatedErrors(new double[3], new double[] {0, 0, -0.01});
    BiasCurve.Axis both =
        x(soak(2, 30, FLAT, none(3), 0.3, 0.02, 0.001), soak(1, 30, FLAT, blind, 0.3, 0.05));
    assertThat(both.powers().order()).isEqualTo(2);
    assertThat(both.powers().coefficients()[1]).isBetween(0.02, 0.023);
  }

  @Test
  void withoutAnyCurveThereIsTheNewestsReason() {
    UnitSoak none =
        new UnitSoak(UnitFixtures.row(1), SoakFigures.unknown(31, "it did not warm"), null);
    assertThat(UnitCurve.of(List.of(none), null, null, 9).reason()).isEqualTo("it did not warm");
    assertThat(UnitCurve.of(List.of(), null, null, 9).reason()).contains("left out");
  }
}
