package soakbench.drift.heading;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.stream.IntStream;
import org.assertj.core.data.Offset;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import soakbench.drift.MadeSoak;
import soakbench.drift.curve.BiasAnalysis;
import soakbench.drift.curve.CurveAsk;
import soakbench.drift.curve.DriftAnalysis;
import soakbench.drift.curve.StillSoak;
import soakbench.drift.noise.Noise;
import soakbench.drift.noise.NoiseAnalysis;
import soakbench.model.Bin;
import soakbench.model.Estimate;

class HeadingAnalysisTest {
  private static BiasAnalysis curve;
  private static Noise noise;

  /** z drifts by 0.03 deg/s per degC, the others by 0.005 and nothing. */
  @BeforeAll
  static void oneSoak() {
    List<Bin> bins =
        new MadeSoak(3600, MadeSoak.warmUp(22, 32, 700))
            .noise(0.004, 0)
            .bias((axis, t, c, rate) -> (axis == 2 ? 0.03 : axis * 0.005) * (c - 31))
            .bins();
    StillSoak still = StillSoak.of(bins);
    curve = DriftAnalysis.biasCurve(still, CurveAsk.at(31), new double[0]);
    noise = NoiseAnalysis.of(still, curve.curve());
  }

  private static Heading heading(double fromC, double useC) {
    return HeadingAnalysis.of(curve, noise, HeadingAsk.between(fromC, useC));
  }

  @Test
  void theRateIsThatOfTheAxisThatMovesMost() {
    Heading h = heading(27, 31);
    assertThat(h.axes()).extracting(Heading.Axis::axis).containsExactly("x", "y", "z");
    assertThat(h.degPerMin()).isEqualTo(h.axes().get(2).degPerMin());
    assertThat(h.degPerMin().value()).isEqualTo(60 * 0.12, Offset.offset(0.3));
    assertThat(h.degPerMin().low()).isLessThan(7.2);
    assertThat(h.degPerMin().high()).isGreaterThan(7.2);
    assertThat(heading(31, 27).degPerMin().value())
        .isEqualTo(-h.degPerMin().value(), Offset.offset(1e-9));
  }

  @Test
  void theMinutesFollowFromRateAndNoise() {
    Heading h = heading(27, 31);
    // 0.12 deg/s and 0.004 deg/sqrt(s): (0.12 t)^2 + 0.004^2 t = 25.
    Estimate m = h.minutesTo5Deg();
    assertThat(m.value()).isEqualTo(5 / (60 * 0.12), Offset.offset(0.03));
    assertThat(m.low()).isLessThan(m.value());
    assertThat(m.high()).isGreaterThan(m.value());
    HeadingTime loud = new HeadingTime(1, 0.05);
    double t = 60 * loud.minutes(new Estimate(3.0, 0.1, 2.8, 3.2, null)).value();
    assertThat(0.05 * 0.05 * t * t + 0.05 * 0.05 * t * t + t).isEqualTo(25, Offset.offset(1e-6));
  }

  @Test
  void aRateWithinItsErrorOfNothingHasAFloorInsteadOfMinutes() {
    Heading same = heading(31, 31);
    assertThat(same.degPerMin().value()).isZero();
    assertThat(same.minutesTo5Deg().reason()).contains("includes zero");
    assertThat(same.note()).contains("less than the Earth's rotation, 0.25 deg/min");
    assertThat(same.earthDegPerMin()).isEqualTo(0.004178 * 60, Offset.offset(1e-4));
  }

  @Test
  void aConstantProfileIsTheSameAsAChosenTemperature() {
    double[] t = IntStream.range(0, 1200).asDoubleStream().toArray();
    double[] c = IntStream.range(0, 1200).mapToDouble(i -> 31).toArray();
    Heading along =
        HeadingAnalysis.of(curve, noise, new HeadingAsk(27, 0, new UseProfile("worn@1", t, c)));
    Heading chosen = heading(27, 31);
    assertThat(along.degPerMin().value())
        .isEqualTo(chosen.degPerMin().value(), Offset.offset(1e-9));
    assertThat(along.degPerMin().low()).isEqualTo(chosen.degPerMin().low(), Offset.offset(1e-9));
    assertThat(along.minutesTo5Deg().value())
        .isEqualTo(chosen.minutesTo5Deg().value(), Offset.offset(1.1 / 60));
    assertThat(along.asked().profile()).isEqualTo("worn@1");
    assertThat(along.asked().useC()).isNull();
  }

  /** Half of it above and half below the calibration's temperature: the errors cancel. */
  @Test
  void aProfileAroundTheCalibrationsTemperatureCancels() {
    double[] t = IntStream.range(0, 1201).asDoubleStream().toArray();
    double[] c = IntStream.range(0, 1201).mapToDouble(i -> 29 + 1 - i / 600.0).toArray();
    Heading along =
        HeadingAnalysis.of(curve, noise, new HeadingAsk(29, 0, new UseProfile("worn@2", t, c)));
    assertThat(along.degPerMin().low()).isLessThan(0);
    assertThat(along.degPerMin().high()).isGreaterThan(0);
    // Meanwhile it was off: 0.03 deg/s at the most, growing for five minutes.
    assertThat(along.minutesTo5Deg().value()).isBetween(2.0, 8.0);
  }

  @Test
  void outsideWhatWasSeenThereIsAReasonAndNoNumber() {
    double[] range = curve.curve().temperatures().rangeC();
    assertThat(heading(27, range[1] + 0.4).note()).startsWith("extrapolated");
    for (Heading h : List.of(heading(27, range[1] + 0.6), heading(range[0] - 0.6, 31))) {
      assertThat(h.degPerMin().known()).isFalse();
      assertThat(h.degPerMin().reason()).contains("outside the");
      assertThat(h.minutesTo5Deg().known()).isFalse();
      assertThat(h.axes()).isEmpty();
    }
    UseProfile hot = new UseProfile("worn@3", new double[] {0, 60}, new double[] {30, 44});
    assertThat(HeadingAnalysis.of(curve, noise, new HeadingAsk(29, 0, hot)).degPerMin().reason())
        .contains("the profile's highest temperature 44.0 degC is outside");
    UseProfile none = UseProfile.of("worn@4", List.of());
    assertThat(HeadingAnalysis.of(curve, noise, new HeadingAsk(29, 0, none)).degPerMin().reason())
        .isEqualTo("soak worn@4 has no temperatures to make a profile of");
    assertThat(heading(Double.NaN, 31).degPerMin().reason())
        .isEqualTo("no temperature of a calibration is known");
    BiasAnalysis flat = BiasAnalysis.unknown("no curve: flat");
    assertThat(HeadingAnalysis.of(flat, noise, HeadingAsk.between(30, 31)).minutesTo5Deg().reason())
        .isEqualTo("no curve: flat");
  }
}
