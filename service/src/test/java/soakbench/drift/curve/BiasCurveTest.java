package soakbench.drift.curve;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Comparator;
import java.util.List;
import java.util.function.DoubleUnaryOperator;
import org.assertj.core.data.Offset;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.drift.Bins;
import soakbench.drift.MadeSoak;
import soakbench.model.Bin;
import soakbench.model.Estimate;

class BiasCurveTest {
  private static final double[] NO_BREAKS = new double[0];
  private static final DoubleUnaryOperator WARM_UP = MadeSoak.warmUp(22, 32, 700);

  private static double cubic(int axis, double celsius) {
    double d = celsius - 31;
    return 0.1 * axis + (0.01 + 0.01 * axis) * d - 4e-4 * d * d + 2e-5 * d * d * d;
  }

  private static double slope(int axis, double celsius) {
    double d = celsius - 31;
    return 0.01 + 0.01 * axis - 8e-4 * d + 6e-5 * d * d;
  }

  private static MadeSoak warming(int seconds) {
    return new MadeSoak(seconds, WARM_UP).bias((axis, t, c, rate) -> cubic(axis, c));
  }

  private static BiasCurve curve(List<Bin> bins, CurveAsk ask) {
    return DriftAnalysis.biasCurve(StillSoak.of(bins), ask, NO_BREAKS).curve();
  }

  private static BiasCurve curve(List<Bin> bins) {
    return curve(bins, CurveAsk.at(31));
  }

  private static boolean holds(Estimate e, double truth) {
    return e.low() <= truth && truth <= e.high();
  }

  @Test
  void theCoefficientAndTheSpanLieInTheirIntervals() {
    int slopes = 0;
    int spans = 0;
    for (int seed = 1; seed <= 20; seed++) {
      BiasCurve curve = curve(warming(3600).noise(0.01, 0.001).seed(seed).bins());
      assertThat(curve.temperatures().operatingC()).isEqualTo(31);
      for (int i = 0; i < 3; i++) {
        BiasCurve.Axis axis = curve.axes().get(i);
        slopes += holds(axis.figures().tempcoDpsPerC(), slope(i, 31)) ? 1 : 0;
        double span =
            cubic(i, curve.temperatures().rangeC()[1]) - cubic(i, curve.temperatures().rangeC()[0]);
        spans += holds(axis.figures().spanDps(), span) ? 1 : 0;
      }
    }
    System.out.printf("covered of 60: coefficient %d, span %d%n", slopes, spans);
    // Fewer than 52 of 60 would come by chance less than once in a hundred.
    assertThat(slopes).isGreaterThanOrEqualTo(52);
    assertThat(spans).isGreaterThanOrEqualTo(52);
  }

  @Test
  void theBandsLieAboutTheCurve() {
    BiasCurve curve = curve(warming(3600).noise(0.01, 0.001).bins());
    for (int i = 0; i < 3; i++) {
      BiasCurve.Axis axis = curve.axes().get(i);
      assertThat(axis.powers().order()).isEqualTo(3);
      assertThat(axis.powers().coefficients()).hasSize(5);
      assertThat(axis.powers().covariance()).hasDimensions(5, 5);
      assertThat(axis.bands()).hasSize(CurveAsk.POINTS).noneMatch(BiasCurve.Point::extrapolated);
      assertThat(axis.interpolationErrorDps()).isBetween(1e-6, 1e-3);
      for (BiasCurve.Point p : axis.bands()) {
        assertThat(p.biasDps()).isCloseTo(cubic(i, p.temperatureC()), Offset.offset(0.012));
        assertThat(p.predictionLowDps()).isLessThan(p.confidenceLowDps());
        assertThat(p.predictionHighDps()).isGreaterThan(p.confidenceHighDps());
      }
    }
  }

  /** Soaks of three orders, their bands over the range and beyond. */
  @ParameterizedTest
  @ValueSource(doubles = {29.3, 26, 22})
  void everyBandIsMadeOfThePublishedCovariance(double fromC) {
    List<Bin> bins =
        new MadeSoak(2400, MadeSoak.warmUp(fromC, 32, 600))
            .bias((axis, t, c, rate) -> cubic(axis, c))
            .noise(0.01, 0.001)
            .bins();
    BiasCurve curve = curve(bins, new CurveAsk(31, null, 18.0, 36.0, 37, null));
    for (BiasCurve.Axis axis : curve.axes()) {
      double[][] covariance = axis.powers().covariance();
      for (BiasCurve.Point p : axis.bands()) {
        double u = p.temperatureC() - curve.temperatures().referenceC();
        double variance = 0;
        for (int i = 0; i < covariance.length; i++) {
          for (int j = 0; j < covariance.length; j++) {
            variance += Math.pow(u, i) * covariance[i][j] * Math.pow(u, j);
          }
        }
        double half = axis.powers().limitsSe() * Math.sqrt(variance);
        assertThat(p.confidenceHighDps() - p.biasDps()).isCloseTo(half, within(1e-9 + 1e-9 * half));
        assertThat(p.biasDps() - p.confidenceLowDps()).isCloseTo(half, within(1e-9 + 1e-9 * half));
      }
      assertThat(axis.figures().tempcoDpsPerC().se())
          .isCloseTo(Math.sqrt(covariance[1][1]), within(1e-12));
    }
  }

  @Test
  void theMeasuredBlocksScatterAboutTheCurve() {
    BiasCurve curve = curve(warming(3600).noise(0.01, 0.001).bins());
    for (int i = 0; i < 3; i++) {
      BiasCurve.Axis axis = curve.axes().get(i);
      assertThat(axis.measured()).hasSize(curve.basis().blocks());
      assertThat(axis.measured())
          .isSortedAccordingTo(Comparator.comparingDouble(BiasCurve.Measured::sinceStartS));
      assertThat(axis.measured().get(0).branch()).isEqualTo(BiasCurve.Branch.WARMING);
      double sum = 0;
      for (BiasCurve.Measured m : axis.measured()) {
        double off = m.biasDps() - cubic(i, m.temperatureC());
        assertThat(off).isBetween(-0.02, 0.02);
        sum += off * off;
      }
      assertThat(Math.sqrt(sum / curve.basis().blocks())).isBetween(0.0005, 0.008);
    }
  }

  @ParameterizedTest
  @CsvSource({"29.3,1", "26,2", "22,3"})
  void theOrderFollowsTheSpan(double fromC, int order) {
    List<Bin> bins =
        new MadeSoak(2400, MadeSoak.warmUp(fromC, 32, 600))
            .bias((axis, t, c, rate) -> cubic(axis, c))
            .bins();
    assertThat(curve(bins).axes()).allMatch(a -> a.powers().order() == order);
    CurveAsk fifth = new CurveAsk(31, 5, null, null, 25, null);
    assertThat(curve(bins, fifth).axes()).allMatch(a -> a.powers().coefficients().length == 7);
  }

  @Test
  void beyondWhatWasCoveredTheBandsSayExtrapolatedAndWiden() {
    CurveAsk ask = new CurveAsk(31, null, 20.0, 40.0, 41, null);
    BiasCurve curve = curve(warming(3600).bins(), ask);
    List<BiasCurve.Point> bands = curve.axes().get(0).bands();
    double inside = width(bands, curve.temperatures().rangeC()[1] - 0.5);
    assertThat(bands).filteredOn(BiasCurve.Point::extrapolated).hasSizeGreaterThan(15);
    for (BiasCurve.Point p : bands) {
      boolean out =
          p.temperatureC() < curve.temperatures().rangeC()[0]
              || p.temperatureC() > curve.temperatures().rangeC()[1];
      assertThat(p.extrapolated()).isEqualTo(out);
    }
    assertThat(width(bands, 34)).isGreaterThan(2 * inside);
    assertThat(width(bands, 40)).isGreaterThan(4 * width(bands, 34));
  }

  private static double width(List<BiasCurve.Point> bands, double celsius) {
    return bands.stream()
        .filter(p -> Math.abs(p.temperatureC() - celsius) <= 0.25)
        .mapToDouble(p -> p.confidenceHighDps() - p.confidenceLowDps())
        .findFirst()
        .orElseThrow();
  }

  @Test
  void aPoseAndABootAreOffsetsNotACurve() {
    MadeSoak.Bias turned = (axis, t, c, rate) -> cubic(axis, c) + (t > 1500 ? 0.3 : 0);
    List<Bin> bins = new MadeSoak(3600, WARM_UP).bias(turned).boots(s -> s >= 1500 ? 1 : 0).bins();
    BiasCurve.Axis z = curve(bins).axes().get(2);
    assertThat(holds(z.figures().tempcoDpsPerC(), slope(2, 31))).isTrue();
    assertThat(z.powers().coefficients()[0]).isCloseTo(0.2 + 0.3, Offset.offset(0.01));
  }

  @Test
  void blocksThatDoNotBelongAreDroppedAndNoOthers() {
    MadeSoak.Bias leaned =
        (axis, t, c, rate) -> cubic(axis, c) + (t > 1800 && t < 1860 ? 0.035 : 0);
    BiasCurve clean = curve(warming(3600).bins());
    BiasCurve odd = curve(new MadeSoak(3600, WARM_UP).bias(leaned).bins());
    assertThat(clean.basis().droppedBlocks()).isZero();
    assertThat(odd.basis().droppedBlocks()).isEqualTo(2);
    for (int i = 0; i < 3; i++) {
      assertThat(holds(odd.axes().get(i).figures().tempcoDpsPerC(), slope(i, 31))).isTrue();
    }
  }

  @Test
  void oneSmoothWarmUpClaimsNeitherLagNorHysteresis() {
    BiasCurve curve =
        curve(
            new MadeSoak(3600, WARM_UP)
                .bias((axis, t, c, rate) -> cubic(axis, c) + 0.2 * rate)
                .bins());
    assertThat(curve.note()).contains("of warming at this rate");
    assertThat(curve.basis().lagCondition()).isNull();
    for (BiasCurve.Axis axis : curve.axes()) {
      assertThat(axis.figures().lagDpsPerCPerS().reason())
          .contains("one smooth warm-up can't tell");
      assertThat(axis.figures().hysteresisDps().reason()).contains("seen both ways");
      assertThat(axis.figures().settlingDps().reason()).contains("one soak can't tell it");
    }
  }

  @Test
  void aCoolingTellsTheLag() {
    DoubleUnaryOperator heatedAndCooled =
        t -> t < 2400 ? WARM_UP.applyAsDouble(t) : 24 + 7.7 * Math.exp(-(t - 2400) / 500);
    BiasCurve curve =
        curve(
            new MadeSoak(4800, heatedAndCooled)
                .noise(0.004, 0)
                .bias((axis, t, c, rate) -> cubic(axis, c) + 0.4 * rate)
                .bins());
    assertThat(curve.note()).isNull();
    assertThat(curve.basis().lagCondition()).isBetween(1.0, 30.0);
    int held = 0;
    for (int i = 0; i < 3; i++) {
      BiasCurve.Axis axis = curve.axes().get(i);
      held += holds(axis.figures().lagDpsPerCPerS(), 0.4) ? 1 : 0;
      assertThat(axis.figures().lagDpsPerCPerS().value()).isCloseTo(0.4, Offset.offset(0.15));
      assertThat(holds(axis.figures().tempcoDpsPerC(), slope(i, 31))).isTrue();
    }
    assertThat(held).isGreaterThanOrEqualTo(2);
  }

  @Test
  void hysteresisIsToldWhereSlowWarmingAndCoolingPassTheSameTemperatures() {
    DoubleUnaryOperator triangle = t -> t < 3600 ? 26 + t / 600 : 32 - (t - 3600) / 600;
    MadeSoak.Bias bias =
        (axis, t, c, rate) -> 0.01 * (c - 30) + (t < 3600 ? 0.006 : 0) * (axis == 0 ? 1 : 0);
    BiasCurve curve = curve(new MadeSoak(7200, triangle).noise(0.004, 0).bias(bias).bins());
    Estimate x = curve.axes().get(0).figures().hysteresisDps();
    assertThat(x.low()).isLessThan(0.006);
    assertThat(x.high()).isGreaterThan(0.006);
    assertThat(x.low()).isGreaterThan(0.002);
    assertThat(curve.axes().get(1).figures().hysteresisDps().low()).isLessThan(0);
  }

  @Test
  void settlingIsToldWhereASecondSoakShowsItAgain() {
    MadeSoak.Bias settles =
        (axis, t, c, rate) -> cubic(axis, c) + (axis == 0 ? 0.08 * Math.exp(-t / 300) : 0);
    StillSoak second =
        StillSoak.of(
            new MadeSoak(3600, MadeSoak.warmUp(25, 33, 1500)).bias(settles).seed(9).bins());
    CurveAsk ask = new CurveAsk(31, null, null, null, 25, second);
    BiasCurve curve =
        curve(new MadeSoak(3600, MadeSoak.warmUp(24, 32, 1300)).bias(settles).bins(), ask);
    Estimate x = curve.axes().get(0).figures().settlingDps();
    assertThat(x.known()).as(x.reason()).isTrue();
    assertThat(x.value()).isCloseTo(0.08, Offset.offset(0.03));
    assertThat(curve.axes().get(1).figures().settlingDps().reason())
        .contains("not shown by both soaks");
  }

  @Test
  void aCoarseThermometerIsReadWhereItSteps() {
    BiasCurve curve = curve(warming(3600).noise(0.004, 0).thermometer(0.01, 0.5).bins());
    assertThat(curve.temperatures().rangeC()[1]).isLessThan(31.8);
    for (int i = 0; i < 3; i++) {
      Estimate e = curve.axes().get(i).figures().tempcoDpsPerC();
      assertThat(holds(e, slope(i, curve.temperatures().operatingC())))
          .as("axis %s: %s", i, e)
          .isTrue();
      assertThat(e.high() - e.low()).isLessThan(0.02);
    }
  }

  @Test
  void aDeadAxisHasAReasonAndTheOthersACurve() {
    List<Bin> bins =
        warming(3600).bias((axis, t, c, rate) -> axis == 1 ? 0 : cubic(axis, c)).bins().stream()
            .map(BiasCurveTest::withDeadY)
            .toList();
    BiasCurve curve = curve(bins);
    assertThat(curve.reason()).isNull();
    assertThat(curve.axes().get(1).reason()).contains("one and the same value");
    assertThat(curve.axes().get(1).figures().tempcoDpsPerC().value()).isNull();
    assertThat(curve.axes().get(1).powers().coefficients()).isEmpty();
    assertThat(curve.axes().get(0).figures().tempcoDpsPerC().known()).isTrue();
  }

  private static Bin withDeadY(Bin b) {
    Bin.Channel[] gyro = b.gyroDps().clone();
    gyro[1] = new Bin.Channel(10, 0.25, 0);
    return new Bin(
        b.tracker(),
        b.second(),
        b.firstUs(),
        b.lastUs(),
        b.boot(),
        b.temperatureC(),
        gyro,
        b.accelG(),
        b.temperatureStepC(),
        b.gyroStepDps());
  }

  @Test
  void whatCanNotHaveACurveSaysWhy() {
    assertThat(curve(List.of()).reason()).startsWith("no curve: never still");
    assertThat(curve(warming(120).bins()).reason()).contains("still half-minutes are too few");
    assertThat(curve(new MadeSoak(1800, t -> 25).bins()).reason())
        .contains("cover only")
        .contains("at least 0.5 are needed");
    assertThat(curve(new MadeSoak(1800, t -> 25).thermometer(0, 0).bins()).reason())
        .isEqualTo("no curve: the temperature did not change");
    Bins shaken = new Bins(3);
    List<Bin> moved =
        java.util.stream.IntStream.range(0, 600).mapToObj(s -> shaken.second(s, 10, 40)).toList();
    assertThat(curve(moved).reason())
        .isEqualTo("no curve: never still for 30 s: it moved all the time");
    Bins seldom = new Bins(4);
    List<Bin> slow =
        java.util.stream.IntStream.range(0, 600)
            .map(s -> 5 * s)
            .mapToObj(s -> seldom.second(s, 1, 0))
            .toList();
    assertThat(curve(slow).reason()).startsWith("no curve: readings come too slowly");
  }
}
