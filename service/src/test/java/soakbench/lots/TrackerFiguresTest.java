package soakbench.lots;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import soakbench.drift.curve.BiasCurve;
import soakbench.drift.curve.RepeatedErrors;
import soakbench.drift.heading.Heading;
import soakbench.drift.noise.Noise;
import soakbench.model.Estimate;
import soakbench.thermal.WarmUpCurve;

/** A unit's soaks put together. */
class TrackerFiguresTest {
  private static final double[] FLAT = {0.01, 0, 1};
  private static final double[] ON_ITS_SIDE = {1, 0.02, 0};

  private static UnitSoak at(int day, double[] restingG, double biasDps, double tempco) {
    return UnitFixtures.soak(
        day,
        30,
        24,
        31,
        restingG,
        UnitFixtures.axis("x", 0.001, biasDps, tempco),
        UnitFixtures.axis("y", 0.001, 0.1, -0.03),
        UnitFixtures.axis("z", 0.001, 0.2, 0.002));
  }

  @Test
  void severalSoaksOfOneUnitAreOneUnit() {
    TrackerFigures f = figures(List.of(at(1, FLAT, 0.30, 0.010), at(2, FLAT, 0.31, 0.012)));
    assertThat(f.soaks().count()).isEqualTo(2);
    assertThat(f.soaks().used()).isEqualTo(2);
    assertThat(f.soaks().newest().id()).isEqualTo("KITE-1@2");
    assertThat(f.axes().get(0).bias().tempcoDpsPerC().value()).isCloseTo(0.011, within(1e-9));
    assertThat(f.axes().get(0).bias().biasDps().value()).isCloseTo(0.305, within(1e-9));
    assertThat(f.warmUp().timeConstantS().value()).isCloseTo(401.5, within(1e-9));
    assertThat(f.greatestTempcoDpsPerC().value()).isCloseTo(-0.03, within(1e-9));
  }

  @Test
  void biasesOfAnotherFaceAreNotMixedIn() {
    TrackerFigures f =
        figures(
            List.of(
                at(1, FLAT, 0.30, 0.01),
                at(2, ON_ITS_SIDE, 0.90, 0.01),
                at(3, FLAT, 0.32, 0.01),
                at(4, FLAT, 0.31, 0.01)));
    assertThat(f.axes().get(0).bias().biasDps().value()).isCloseTo(0.31, within(1e-9));
    // Observed variance 1e-4 minus the mean squared error 1e-6.
    assertThat(f.axes().get(0).turnOnDps().value()).isCloseTo(Math.sqrt(99e-6), within(1e-12));
    assertThat(f.soaks().used()).isEqualTo(4);
  }

  @Test
  void aSoakThatReachedAnotherTemperatureIsNotCombined() {
    UnitSoak cooler =
        UnitFixtures.soak(
            1,
            27,
            23,
            27,
            UnitFixtures.axis("x", 0.001, 0.2, 0.5),
            UnitFixtures.axis("y", 0.001, 0.2, 0.5),
            UnitFixtures.axis("z", 0.001, 0.2, 0.5));
    TrackerFigures f = figures(List.of(cooler, at(2, FLAT, 0.30, 0.01)));
    assertThat(f.soaks().count()).isEqualTo(2);
    assertThat(f.soaks().used()).isEqualTo(1);
    assertThat(f.axes().get(0).bias().tempcoDpsPerC().value()).isEqualTo(0.01);
    assertThat(f.axes().get(0).turnOnDps().reason()).contains("needs 3 soaks").endsWith("is 1");
  }

  @Test
  void aSoakThatIsLeftOutIsCountedAndNotUsed() {
    UnitSoak odd = leftOut(at(3, FLAT, 0.90, 0.01), "the blanket had slipped");
    List<UnitSoak> soaks = List.of(odd, at(2, FLAT, 0.31, 0.01), at(1, FLAT, 0.30, 0.01));
    TrackerFigures f = figures(soaks);
    assertThat(f.soaks().count()).isEqualTo(3);
    assertThat(f.soaks().leftOut()).isEqualTo(1);
    assertThat(f.soaks().used()).isEqualTo(2);
    assertThat(f.soaks().newest()).isEqualTo(UnitFixtures.row(2));
    assertThat(f.axes()).isEqualTo(figures(soaks.subList(1, 3)).axes());
  }

  @Test
  void whereEverySoakIsLeftOutTheUnitStaysListedAndEachFigureSaysWhy() {
    TrackerFigures f =
        figures(List.of(leftOut(at(1, FLAT, 0.30, 0.01), "the blanket had slipped")));
    assertThat(f.soaks().newest()).isEqualTo(UnitFixtures.row(1));
    assertThat(f.soaks().leftOut()).isEqualTo(1);
    assertThat(f.operatingC()).isNull();
    assertThat(f.axes().get(0).bias().biasDps().reason())
        .isEqualTo(
            "its only soak is left out of the figures; of the newest it was said: the blanket had"
                + " slipped");
  }

  @Test
  void atAnyTemperatureTheSoaksThatReachItAreUsedAndTheOthersSayWhyNot() {
    UnitSoak cool = ranging(1, 26, 22, 26.2, 0.05);
    UnitSoak warm = ranging(2, 30, 24, 31, 0.01);
    UnitSoak odd = leftOut(ranging(3, 30, 24, 31, 0.5), "on a cold plate");
    TrackerCurves unit = TrackerCurves.of(List.of(odd, warm, cool));
    assertThat(unit.figures().operatingC()).isEqualTo(30);
    TrackerFigures at31 = unit.at(31);
    assertThat(at31.soaks().used()).isEqualTo(1);
    assertThat(at31.soaks().notUsed())
        .containsExactly(
            new TrackerFigures.NotUsed("KITE-1@1", "it covered 22.0 to 26.2 degC, not 31.00"),
            new TrackerFigures.NotUsed("KITE-1@3", "left out of the figures: on a cold plate"));
    assertThat(at31.soaks().count()).isEqualTo(3);
    assertThat(at31.extrapolated()).isFalse();
    assertThat(tempcoX(at31)).isCloseTo(0.01, within(1e-12));
    TrackerFigures at25 = unit.at(25);
    assertThat(at25.soaks().used()).isEqualTo(2);
    assertThat(tempcoX(at25)).isBetween(0.02, 0.04);
  }

  private static double tempcoX(TrackerFigures figures) {
    return figures.axes().get(0).bias().tempcoDpsPerC().value();
  }

  private static UnitSoak ranging(
      int day, double operatingC, double lowC, double highC, double tempco) {
    AxisFigures x = UnitFixtures.axis("x", 0.001, 0.3, tempco);
    AxisFigures other = UnitFixtures.axis("y", 0.001, 0.1, 0.02);
    return UnitFixtures.soak(day, operatingC, lowC, highC, x, other, other);
  }

  /** 0.0001 is left open of the power left out: 16 degrees off the reference that is 0.0256. */
  @Test
  void whereNoSoakReachesTheTemperatureAllAreUsedAndTheIntervalWidensWithTheDistance() {
    RepeatedErrors square = new RepeatedErrors(new double[3], new double[] {0, 0, -1e-4});
    AxisFigures x = UnitFixtures.axis("x", 0.001, square, 0.3, 0.01);
    UnitSoak a = UnitFixtures.soak(1, 30, 24, 31, x, x, x);
    UnitSoak b = UnitFixtures.soak(2, 30, 24, 31, x, x, x);
    TrackerFigures far = TrackerCurves.of(List.of(a, b)).at(46);
    assertThat(far.extrapolated()).isTrue();
    assertThat(far.soaks().used()).isEqualTo(2);
    Estimate bias = far.axes().get(0).bias().biasDps();
    assertThat(bias.value()).isCloseTo(0.3 + 0.16, within(1e-12));
    double own = (1e-6 + 256 * 1e-6) / 2;
    assertThat(bias.se()).isCloseTo(Math.sqrt(own + 0.0256 * 0.0256), within(1e-12));
  }

  @Test
  void aTimeConstantThatIsOnlyBelievedIsNotCombinedAndSaysSo() {
    UnitSoak shown = at(1, FLAT, 0.3, 0.01);
    UnitSoak believed = believing(at(2, FLAT, 0.3, 0.01));
    TrackerFigures both = figures(List.of(shown, believed));
    assertThat(both.warmUp().timeConstantS()).isEqualTo(shown.figures().timeConstantS());
    assertThat(both.warmUp().timeConstantPriorOnly()).isFalse();
    TrackerFigures alone = figures(List.of(believed));
    assertThat(alone.warmUp().timeConstantS().value()).isEqualTo(820);
    assertThat(alone.warmUp().timeConstantPriorOnly()).isTrue();
  }

  private static UnitSoak believing(UnitSoak soak) {
    SoakFigures f = soak.figures();
    SoakFigures believed =
        new SoakFigures(
            f.operatingC(),
            f.lowC(),
            f.highC(),
            f.useC(),
            f.plateauC(),
            Estimate.of(820, 450, 260, 2500),
            true,
            f.sampleRateHz(),
            f.axes(),
            f.degPerMin(),
            f.minutesTo5Deg(),
            f.restingG());
    return new UnitSoak(soak.soak(), believed, null);
  }

  private static TrackerFigures figures(List<UnitSoak> soaks) {
    return TrackerCurves.of(soaks).figures();
  }

  private static UnitSoak leftOut(UnitSoak soak, String why) {
    return new UnitSoak(soak.soak(), soak.figures(), why);
  }

  @Test
  void withoutAnyCurveEveryFigureHasTheNewestReason() {
    UnitSoak none =
        new UnitSoak(
            UnitFixtures.row(1), SoakFigures.unknown(31, "the temperature did not change"), null);
    TrackerFigures f = figures(List.of(none));
    assertThat(f.operatingC()).isNull();
    for (AxisSummary axis : f.axes()) {
      for (Estimate e :
          List.of(
              axis.bias().biasDps(),
              axis.bias().tempcoDpsPerC(),
              axis.bias().spanDps(),
              axis.turnOnDps())) {
        assertThat(e.known()).isFalse();
        assertThat(e.reason()).isEqualTo("the temperature did not change");
      }
    }
  }

  @Test
  void anAxisWithoutACurveHasItsOwnReason() {
    BiasCurve curve =
        new BiasCurve(
            new BiasCurve.Temperatures(30.0, 30.0, new double[] {24, 31}),
            new BiasCurve.Basis(40, 0, null),
            List.of(
                BiasCurve.Axis.unknown("x", "the axis reads the same all the time"),
                BiasCurve.Axis.unknown("y", "the axis reads the same all the time"),
                BiasCurve.Axis.unknown("z", "the axis reads the same all the time")),
            null,
            null);
    Heading heading =
        new Heading(
            new Heading.Asked(30.0, 31.0, null),
            Estimate.unknown("-"),
            Estimate.unknown("-"),
            List.of(),
            0,
            null);
    SoakFigures set =
        SoakFigures.of(
            WarmUpCurve.unknown("short", List.of()), curve, Noise.unknown("short"), heading, null);
    TrackerFigures f =
        figures(List.of(new UnitSoak(UnitFixtures.row(1), set, null), at(2, null, 0.3, 0.01)));
    assertThat(f.axes().get(0).bias().tempcoDpsPerC().value()).isEqualTo(0.01);
    TrackerFigures alone = figures(List.of(new UnitSoak(UnitFixtures.row(1), set, null)));
    assertThat(alone.axes().get(1).bias().biasDps().reason())
        .isEqualTo("the axis reads the same all the time");
    assertThat(
            CurveDifference.each(
                    List.of(at(2, null, 0.3, 0.01), new UnitSoak(UnitFixtures.row(1), set, null)),
                    null)
                .get(0)
                .axes()
                .get(0)
                .greatestDps()
                .reason())
        .contains("no curve of this axis");
  }
}
