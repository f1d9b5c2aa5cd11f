package soakbench.lots;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import soakbench.drift.curve.BiasCurve;
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
                    List.of(at(2, null, 0.3, 0.01), new UnitSoak(UnitFixtures.row(1), set, null)))
                .get(0)
                .axesDps()
                .get(0)
                .reason())
        .contains("no curve of this axis");
  }
}
