package soakbench.thermal;

import static java.util.Comparator.comparingLong;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.function.IntToDoubleFunction;
import org.assertj.core.data.Offset;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.model.Bin;
import soakbench.model.Bin.Channel;
import soakbench.model.Estimate;

class WarmUpAnalysisTest {
  private static final long START_S = 1_772_352_000;
  private static final Channel[] NONE = {Channel.EMPTY, Channel.EMPTY, Channel.EMPTY};

  private static List<Bin> bins(int seconds, double noiseC, IntToDoubleFunction celsiusAt) {
    SplittableRandom random = new SplittableRandom(17);
    List<Bin> bins = new ArrayList<>();
    for (int s = 0; s < seconds; s++) {
      double c = celsiusAt.applyAsDouble(s) + noiseC * random.nextGaussian();
      bins.add(bin(s, new Channel(10, c, 3 * noiseC)));
    }
    return bins;
  }

  private static Bin bin(int s, Channel temperatureC) {
    long us = (START_S + s) * 1_000_000;
    return new Bin(
        "T-0412", START_S + s, us, us + 900_000, 0, temperatureC, NONE, NONE, 0.004, Double.NaN);
  }

  private static double chipAndBody(double s) {
    return 32 - 8 * Math.exp(-s / 800) - 2 * Math.exp(-s / 30);
  }

  @Test
  void aRecordFromTheStartShowsTheChipsConstantFirst() {
    WarmUpCurve curve = WarmUpAnalysis.of(bins(2400, 0.005, s -> chipAndBody(s + 0.5)));
    assertThat(curve.reason()).isNull();
    assertThat(curve.timeConstantsS()).hasSize(2);
    assertThat(curve.timeConstantsS().get(0).value()).isCloseTo(30, Offset.offset(1.0));
    assertThat(curve.timeConstantsS().get(1).value()).isCloseTo(800, Offset.offset(5.0));
    assertThat(curve.plateauC().value()).isCloseTo(32, Offset.offset(0.01));
    assertThat(curve.startC().value()).isCloseTo(22, Offset.offset(0.05));
    assertThat(curve.basis().fromUs()).isLessThan((START_S + 5) * 1_000_000);
  }

  @Test
  void theCourseFollowsTheBodyAndItsForecastHolds() {
    for (int seconds : new int[] {900, 2400}) {
      WarmUpCurve curve = WarmUpAnalysis.of(bins(seconds, 0.005, s -> chipAndBody(s + 0.5)));
      assertThat(curve.course()).isSortedAccordingTo(comparingLong(WarmUpCurve.Point::timeUs));
      assertThat(curve.course()).filteredOn(WarmUpCurve.Point::forecast).hasSize(30);
      for (WarmUpCurve.Point p : curve.course()) {
        double truthC = chipAndBody(p.timeUs() / 1e6 - START_S);
        boolean late = p.timeUs() > curve.basis().toUs();
        assertThat(p.forecast()).isEqualTo(late);
        // Two standard errors would leave some out: all points stand on one fit.
        double spareC = 0.5 * (p.confidenceHighC() - p.confidenceLowC()) + 0.002;
        assertThat(truthC).isBetween(p.confidenceLowC() - spareC, p.confidenceHighC() + spareC);
      }
      WarmUpCurve.Point last = curve.course().get(curve.course().size() - 1);
      double aheadS = last.timeUs() / 1e6 - START_S - seconds;
      assertThat(aheadS / curve.timeConstantsS().get(1).value()).isCloseTo(2, Offset.offset(0.01));
    }
  }

  @Test
  void aRecordThatBeginsLateHasOneConstantAndTheSamePlateau() {
    WarmUpCurve curve = WarmUpAnalysis.of(bins(2400, 0.005, s -> chipAndBody(s + 400.5)));
    assertThat(curve.timeConstantsS()).hasSize(1);
    assertThat(curve.timeConstantsS().get(0).value()).isCloseTo(800, Offset.offset(8.0));
    assertThat(curve.priorOnly()).isFalse();
    assertThat(curve.plateauC().low()).isLessThan(32);
    assertThat(curve.plateauC().high()).isGreaterThan(32);
  }

  /** A body of 700 s in a room that is this much warmer than at first after so many seconds. */
  private static double[] body(int seconds, IntToDoubleFunction roomC) {
    double[] out = new double[seconds];
    double bodyC = 21;
    for (int s = 0; s < seconds; s++) {
      bodyC += (25 + roomC.applyAsDouble(s) - bodyC) / 700;
      out[s] = bodyC + 1.3 * (1 - Math.exp(-s / 30.0));
    }
    return out;
  }

  private static WarmUpCurve curveIn(int seconds, IntToDoubleFunction roomC) {
    double[] celsius = body(seconds, roomC);
    return WarmUpAnalysis.of(bins(seconds, 0.01, s -> celsius[s]));
  }

  /** Where it would end if the room stayed as it is by the soak's end. */
  @ParameterizedTest
  @CsvSource({"0.3, 7200", "1, 3600", "2, 3600", "-0.6, 3600", "-1, 5400"})
  void whatTheRoomDriftsIsInThePlateausLimits(double cPerH, int seconds) {
    WarmUpCurve curve = curveIn(seconds, s -> cPerH * s / 3600);
    assertThat(curve.reason()).isNull();
    double endC = 26.3 + cPerH * seconds / 3600;
    Estimate plateau = curve.plateauC();
    assertThat(endC).isBetween(plateau.low(), plateau.high());
    assertThat(plateau.value()).isBetween(plateau.low(), plateau.high());
    assertThat(plateau.value()).isCloseTo(endC, Offset.offset(0.35));
  }

  /** The room was steady for half an hour, and the curve of that time is the one that is told. */
  @Test
  void aRoomThatBeginsToWarmLaterTakesThePlateauWithIt() {
    WarmUpCurve curve = curveIn(3600, s -> 3.0 * Math.max(0, s - 1800) / 3600);
    assertThat(curve.plateauC().low()).isLessThan(26.4);
    assertThat(curve.plateauC().high()).isGreaterThan(27.8);
  }

  @ParameterizedTest
  @ValueSource(ints = {1800, 3600})
  void aSteadyRoomLeavesThePlateauAsSharpAsItIs(int seconds) {
    Estimate plateau = curveIn(seconds, s -> 0).plateauC();
    assertThat(plateau.value()).isCloseTo(26.3, Offset.offset(0.02));
    assertThat(plateau.high() - plateau.low()).isLessThan(0.05);
  }

  /** A heating cycle comes back: its mean is what the tracker heads for. */
  @ParameterizedTest
  @ValueSource(ints = {3600})
  void aRoomWhoseHeatingCyclesIsNotTakenForOneThatDrifts(int seconds) {
    Estimate plateau = curveIn(seconds, s -> 0.4 * Math.sin(2 * Math.PI * s / 800)).plateauC();
    assertThat(26.3).isBetween(plateau.low(), plateau.high());
    assertThat(plateau.value()).isCloseTo(26.3, Offset.offset(0.2));
    assertThat(plateau.high() - plateau.low()).isLessThan(0.8);
  }

  @Test
  void aTemperatureThatDoesNotChangeHasNoCurve() {
    WarmUpCurve curve = WarmUpAnalysis.of(bins(1800, 0, s -> 25));
    assertThat(curve.reason()).isEqualTo("no curve: the temperature did not change");
    assertThat(curve.plateauC()).isEqualTo(Estimate.unknown(curve.reason()));
    assertThat(curve.timeConstantsS()).isEmpty();
  }

  @Test
  void noiseAboutALevelTellsTheLevelAndNoStart() {
    WarmUpCurve curve = WarmUpAnalysis.of(bins(1800, 0.02, s -> 25));
    assertThat(curve.plateauC().low()).isLessThan(25);
    assertThat(curve.plateauC().high()).isGreaterThan(25);
    assertThat(curve.startC().known()).isFalse();
    assertThat(curve.priorOnly()).as("the time constant is the belief that went in").isTrue();
  }

  @ParameterizedTest
  @ValueSource(ints = {1, 2, 3, 30, 119})
  void tooFewSecondsHaveNoCurveYet(int seconds) {
    WarmUpCurve curve = WarmUpAnalysis.of(bins(seconds, 0.01, WarmUpAnalysisTest::chipAndBody));
    assertThat(curve.reason()).startsWith("no curve");
    assertThat(curve.plateauC().known()).isFalse();
  }

  @Test
  void threeSamplesHoursApartHaveNoCurve() {
    List<Bin> bins = new ArrayList<>();
    for (int k = 0; k < 3; k++) {
      bins.add(bin(k * 7200, new Channel(1, 20 + 3 * k, Double.NaN)));
    }
    assertThat(WarmUpAnalysis.of(bins).reason()).startsWith("no curve");
  }

  @Test
  void secondsWithoutATemperatureSayThatTheLinesCarryNone() {
    List<Bin> bins = new ArrayList<>();
    for (int s = 0; s < 600; s++) {
      bins.add(bin(s, Channel.EMPTY));
    }
    assertThat(WarmUpAnalysis.of(bins).reason())
        .isEqualTo("no curve: its lines carry no temperature");
    assertThat(WarmUpAnalysis.of(List.of()).reason()).isEqualTo("no samples");
  }

  @Test
  void aRampWithoutAnEndHasNoPlateauYet() {
    WarmUpCurve curve = WarmUpAnalysis.of(bins(1200, 0.01, s -> 20 + 0.002 * s));
    assertThat(curve.reason()).contains("the record is too short");
  }

  @Test
  void aRunawayFollowsNoSuchLaw() {
    WarmUpCurve curve = WarmUpAnalysis.of(bins(1200, 0.01, s -> 20 + 0.1 * Math.exp(s / 300.0)));
    assertThat(curve.plateauC().known()).isFalse();
    assertThat(curve.reason()).isNotBlank();
  }
}
