package soakbench.drift.noise;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import soakbench.model.Estimate;
import soakbench.numerics.Noises;
import soakbench.numerics.SpectralLine;
import soakbench.numerics.allan.AllanFit;

/** Deviations and what is read from them, of noise whose N, B and K went in. */
class AllanCurveTest {
  private static final Optional<SpectralLine> NO_LINE = Optional.empty();

  private static AllanCurve curve(double[] rates) {
    return AllanCurve.of(List.of(rates), List.of(new double[rates.length]));
  }

  private static double[] walk(int n, double stepDps, long seed) {
    double[] out = Noises.white(n, stepDps, seed);
    for (int i = 1; i < n; i++) {
      out[i] += out[i - 1];
    }
    return out;
  }

  /** Shown to a quarter of the stretch, read to a tenth. */
  @Test
  void ofSixtyFourSecondsSixteenAreShownAndFourRead() {
    AllanCurve curve = curve(Noises.white(64, 0.01, 1));
    assertThat(curve.points()).extracting(p -> p.factor()).containsExactly(1, 2, 4, 8, 16);
    assertThat(curve.read()).isEqualTo(3);
  }

  @Test
  void whiteNoiseIsExplainedByItsN() {
    AllanCurve curve = curve(Noises.white(8000, 0.02, 2));
    assertThat(Math.sqrt(curve.model().parts()[0])).isCloseTo(0.02, within(0.0006));
    assertThat(curve.model().share(0, 1)).isGreaterThan(0.98);
    for (int i = 0; i < curve.points().size(); i++) {
      double[] limits = curve.limits(i);
      double expected = 0.02 / Math.sqrt(curve.points().get(i).factor());
      assertThat(expected).as("point %s", i).isBetween(limits[0] * 0.9, limits[1] * 1.1);
    }
  }

  @Test
  void theNoiseThatIsReadIsTheOneThatWentIn() {
    double[] rates = Noises.sum(Noises.white(20_000, 0.01, 3), walk(20_000, 0.0004, 4));
    Noise.Axis axis = NoiseReading.of("y", curve(rates), NO_LINE, null, Optional.empty());
    assertThat(axis.axis()).isEqualTo("y");
    Estimate n = axis.angleRandomWalkDegPerSqrtH();
    assertThat(n.value()).as("0.01 deg/sqrt(s)").isCloseTo(0.6, within(0.03));
    Estimate k = axis.rateRandomWalkDpsPerSqrtS();
    assertThat(k.low()).isLessThan(0.0004);
    assertThat(k.high()).isGreaterThan(0.0004);
    assertThat(axis.biasInstabilityDegPerH().reason()).contains("not resolved");
    assertThat(axis.deviations().tauS())
        .startsWith(1, 2, 4)
        .hasSameSizeAs(axis.deviations().adevDps());
  }

  @Test
  void aRandomWalkFromTheFirstSecondHasNoWhiteNoise() {
    Noise.Axis axis =
        NoiseReading.of("x", curve(walk(4000, 0.01, 5)), NO_LINE, null, Optional.empty());
    assertThat(axis.angleRandomWalkDegPerSqrtH().reason())
        .isEqualTo("no slope of -1/2 at 1 s: the noise there is not white");
  }

  @Test
  void readingsThatDoNotChangeHaveNoNoise() {
    Noise.Axis axis = NoiseReading.of("x", curve(new double[400]), NO_LINE, null, Optional.empty());
    assertThat(axis.angleRandomWalkDegPerSqrtH().reason())
        .isEqualTo("the readings do not change: no noise to measure");
    Noise.Axis brief = NoiseReading.of("x", curve(new double[6]), NO_LINE, null, Optional.empty());
    assertThat(brief.biasInstabilityDegPerH().reason()).startsWith("no stretch is long enough");
  }

  @Test
  void aSpectralLineIsNamedInPlaceOfNumbersUnlessItIsSmall() {
    AllanCurve curve = curve(Noises.white(2000, 0.01, 6));
    Optional<SpectralLine> seen = Optional.of(new SpectralLine(0.125, 0.25));
    Noise.Axis line = NoiseReading.of("z", curve, seen, null, Optional.empty());
    String words =
        "not white: a spectral line at 0.125 Hz (or the image of a quicker one) makes 25 % of the"
            + " variance";
    assertThat(line.angleRandomWalkDegPerSqrtH().reason()).isEqualTo(words);
    assertThat(line.biasInstabilityDegPerH().reason()).isEqualTo(words);
    assertThat(line.rateRandomWalkDpsPerSqrtS().reason()).isEqualTo(words);
    Noise.Axis small =
        NoiseReading.of(
            "z", curve, Optional.of(new SpectralLine(0.125, 0.019)), null, Optional.empty());
    assertThat(small.angleRandomWalkDegPerSqrtH().known()).isTrue();
  }

  @Test
  void whatIsFittedIsTheVarianceOfThePointsThatAreRead() {
    AllanCurve curve = curve(Noises.white(1000, 0.02, 7));
    List<AllanFit.Reading> readings = curve.readings();
    assertThat(readings).hasSize(curve.read());
    double df = 0;
    for (int i = 0; i < readings.size(); i++) {
      double deviation = curve.points().get(i).deviation();
      assertThat(readings.get(i).variance()).isEqualTo(deviation * deviation);
      df += readings.get(i).degreesOfFreedom();
    }
    assertThat(df).as("no more than readings").isLessThanOrEqualTo(1001);
  }
}
