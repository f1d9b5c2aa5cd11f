package soakbench.thermal;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.SplittableRandom;
import java.util.function.DoubleUnaryOperator;
import org.assertj.core.data.Offset;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import soakbench.numerics.Measured;
import soakbench.numerics.RelaxationPosterior;

class WarmUpTrackerTest {
  private static final int HZ = 10;

  /** A thermometer: noise of single readings and step of the printed figure, degC. */
  private record Thermometer(double noiseC, double stepC, long seed) {}

  private static void feed(
      WarmUpTracker tracker, Thermometer thermometer, DoubleUnaryOperator law, int from, int to) {
    SplittableRandom random = new SplittableRandom(thermometer.seed + from);
    for (int s = from; s < to; s++) {
      double[] readings = new double[HZ];
      double mean = 0;
      for (int i = 0; i < HZ; i++) {
        double c =
            law.applyAsDouble(s + i / (double) HZ) + thermometer.noiseC * random.nextGaussian();
        readings[i] = Math.rint(c / thermometer.stepC) * thermometer.stepC;
        mean += readings[i] / HZ;
      }
      double squares = 0;
      double step = Double.NaN;
      for (int i = 0; i < HZ; i++) {
        squares += (readings[i] - mean) * (readings[i] - mean);
        double d = i == 0 ? 0 : Math.abs(readings[i] - readings[i - 1]);
        step = d > 1e-5 && !(step < d) ? d : step;
      }
      tracker.accept(s + 0.5, mean, Math.sqrt(squares / (HZ - 1)), step);
    }
  }

  private static double law(double tS) {
    return 31.2 - 9 * Math.exp(-tS / 750);
  }

  /** The lid is opened at {@code atS}: the surroundings are {@code dropC} cooler from then on. */
  private static DoubleUnaryOperator opened(double atS, double dropC) {
    return t -> law(t) - (t < atS ? 0 : dropC * (1 - Math.exp(-(t - atS) / 750)));
  }

  @ParameterizedTest
  @CsvSource({"0.003, 0.01", "0.04, 0.0625", "0.003, 0.25", "0.1, 0.25"})
  void aSteadyWarmUpShowsNoBreakInAnHour(double noiseC, double stepC) {
    for (long seed = 1; seed <= 8; seed++) {
      WarmUpTracker tracker = new WarmUpTracker();
      feed(tracker, new Thermometer(noiseC, stepC, 100 * seed), WarmUpTrackerTest::law, 0, 3600);
      assertThat(tracker.breaksS()).as("seed %s", seed).isEmpty();
    }
  }

  @Test
  void theBreakIsDatedNearTheLid() {
    WarmUpTracker tracker = new WarmUpTracker();
    feed(tracker, new Thermometer(0.01, 0.01, 4), opened(1200, 4), 0, 1300);
    assertThat(tracker.breaksS()).isNotEmpty();
    assertThat(tracker.breaksS().get(0)).isBetween(1180.0, 1240.0);
    assertThat(tracker.tailSpanS()).isLessThan(110);
  }

  @Test
  void theTailKnowsPlateauAndWhatComes() {
    WarmUpTracker tracker = new WarmUpTracker();
    feed(tracker, new Thermometer(0.15, 0.0625, 9), WarmUpTrackerTest::law, 0, 1500);
    RelaxationPosterior tail = tracker.tailFit().orElseThrow();
    assertThat(tail.mixture().plateau().value()).isEqualTo(31.2, Offset.offset(0.1));
    double fromS = tracker.tailS();
    assertThat(tail.mixture().change(180).value())
        .isEqualTo(law(fromS + 180) - law(fromS), Offset.offset(0.02));
    assertThat(tracker.tailSpanS()).isBetween(1180.0, 1200.0);
  }

  @Test
  void nothingIsSaidOfTheTailBeforeTheChipIsWarm() {
    WarmUpTracker tracker = new WarmUpTracker();
    feed(tracker, new Thermometer(0.01, 0.01, 9), WarmUpTrackerTest::law, 0, 150);
    assertThat(tracker.tail()).isEmpty();
    assertThat(tracker.minuteSlope().orElseThrow().cPerMin())
        .isEqualTo(60 * 9 / 750.0 * Math.exp(-120 / 750.0), Offset.offset(0.03));
    feed(tracker, new Thermometer(0.01, 0.01, 9), WarmUpTrackerTest::law, 150, 221);
    assertThat(tracker.tail()).isPresent();
  }

  @Test
  void aCoarseStepIsReadAsIntervalsThatHoldTheTrueSlopeAndPlateau() {
    WarmUpTracker coarse = new WarmUpTracker();
    for (int s = 0; s < 1500; s++) {
      coarse.accept(s + 0.5, Math.rint(law(s) / 0.5) * 0.5, 0, Double.NaN);
    }
    RelaxationPosterior tail = coarse.tailFit().orElseThrow();
    Measured slope = tail.mixture().slope();
    double true1 = law(coarse.tailS() + 1) - law(coarse.tailS());
    assertThat(slope.value()).isEqualTo(true1, Offset.offset(3 * slope.se()));
    assertThat(60 * slope.se()).isLessThan(0.03);
    Measured plateau = tail.mixture().plateau();
    assertThat(plateau.value()).isEqualTo(31.2, Offset.offset(3 * plateau.se()));
  }

  @Test
  void aThermometerThatSpeaksEveryTwentySecondsStillGivesATail() {
    WarmUpTracker tracker = new WarmUpTracker();
    for (int s = 0; s < 1200; s += 20) {
      tracker.accept(s + 0.5, law(s), Double.NaN, Double.NaN);
    }
    RelaxationPosterior tail = tracker.tailFit().orElseThrow();
    double sd = tail.mixture().plateau().se();
    assertThat(sd).isLessThan(1.5);
    assertThat(tail.mixture().plateau().value()).isEqualTo(31.2, Offset.offset(2 * sd));
  }
}
