package soakbench.numerics.allan;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.numerics.Noises;

/** Deviations of rates whose Allan variance is known in closed form. */
class AllanDeviationTest {

  private static double deviation(double[] readings, int m) {
    return AllanDeviation.overlapping(List.of(readings), new int[] {m}).get(0).deviation();
  }

  private static double[] of(int n, java.util.function.IntToDoubleFunction reading) {
    return java.util.stream.IntStream.range(0, n).mapToDouble(reading).toArray();
  }

  /**
   * The nine frequency points of NBS Monograph 140, annex 8.E, which NIST SP 1065 takes as its
   * first test (data and answers from memory): Allan deviation 91.22945 at one point and, with
   * overlapping, 85.95287 at two.
   */
  @Test
  void theNinePointsOfTheMonographComeOut() {
    double[] points = {892, 809, 823, 798, 671, 644, 883, 903, 677};
    assertThat(deviation(points, 1)).isCloseTo(91.22945, within(5e-6));
    assertThat(deviation(points, 2)).isCloseTo(85.95287, within(5e-6));
  }

  /** A drift of r a reading makes r m / sqrt(2) (NIST SP 1065, table 1). */
  @ParameterizedTest
  @ValueSource(ints = {1, 3, 10, 100})
  void aDriftRisesInProportionToTheTime(int m) {
    assertThat(deviation(of(400, i -> 5 + 0.002 * i), m))
        .isCloseTo(0.002 * m / Math.sqrt(2), within(1e-12));
  }

  /**
   * A sine of amplitude A and f cycles a reading: A sin^2(pi f m) / (m sin(pi f)), as means of m
   * are sines too, and neighbours differ by their phase.
   */
  @ParameterizedTest
  @ValueSource(ints = {1, 2, 7, 10, 13, 40})
  void aSineHasItsLobes(int m) {
    double f = 0.05;
    double[] sine = of(40_000, i -> 3 * Math.sin(2 * Math.PI * f * i + 0.4));
    double s = Math.sin(Math.PI * f * m);
    assertThat(deviation(sine, m)).isCloseTo(3 * s * s / (m * Math.sin(Math.PI * f)), within(1e-3));
  }

  @Test
  void readingsThatAlternateVanishInPairs() {
    double[] alternating = of(200, i -> i % 2 == 0 ? 1 : -1);
    assertThat(deviation(alternating, 1)).isCloseTo(Math.sqrt(2), within(1e-12));
    assertThat(deviation(alternating, 2)).isCloseTo(0, within(1e-12));
    assertThat(deviation(of(50, i -> 7.25), 5)).isZero();
  }

  /** White noise of deviation s: s / sqrt(m). A walk with steps q: q sqrt((2 m^2 + 1) / (6 m)). */
  @ParameterizedTest
  @ValueSource(ints = {1, 4, 16})
  void whiteNoiseFallsAndARandomWalkRises(int m) {
    SplittableRandom random = new SplittableRandom(21);
    double[] white = of(200_000, i -> 0.3 * random.nextGaussian());
    assertThat(deviation(white, m)).isCloseTo(0.3 / Math.sqrt(m), within(0.015 / Math.sqrt(m)));
    double[] walk = white.clone();
    for (int i = 1; i < walk.length; i++) {
      walk[i] += walk[i - 1];
    }
    double expected = 0.3 * Math.sqrt((2.0 * m * m + 1) / (6.0 * m));
    assertThat(deviation(walk, m)).isCloseTo(expected, within(0.03 * expected));
  }

  @Test
  void aGapPartsTheRecordAndTermsAreCounted() {
    double[] before = {1, 2, 4};
    double[] after = {10, 13};
    AllanDeviation.Point point =
        AllanDeviation.overlapping(List.of(before, after), new int[] {1}).get(0);
    assertThat(point.terms()).isEqualTo(3);
    assertThat(point.deviation()).isCloseTo(Math.sqrt((1 + 4 + 9) / 6.0), within(1e-12));
    assertThat(AllanDeviation.overlapping(List.of(before, after), new int[] {2})).isEmpty();
  }

  @Test
  void octavesReachAQuarterOfTheLongestPiece() {
    List<double[]> pieces = List.of(new double[10], new double[64]);
    assertThat(AllanDeviation.octaves(pieces)).containsExactly(1, 2, 4, 8, 16);
    assertThat(AllanDeviation.octaves(List.of(new double[3]))).isEmpty();
    assertThat(AllanDeviation.octaves(List.of())).isEmpty();
  }

  @Test
  void anAveragingFactorBelowOneIsRefused() {
    assertThatIllegalArgumentException()
        .isThrownBy(() -> AllanDeviation.overlapping(List.of(new double[9]), new int[] {0}))
        .withMessage("averaging factor 0 must be at least 1");
  }

  @Test
  void withoutARampNothingIsLeftOut() {
    double[] white = Noises.white(500, 1, 9);
    SettledAllan settled = new SettledAllan(List.of(white), List.of(new double[500]));
    for (int m : new int[] {1, 8, 64}) {
      assertThat(settled.deviation(m)).isEqualTo(deviation(white, m));
      SettledAllan.Point at = settled.at(m, 0);
      assertThat(at.deviation()).isCloseTo(settled.deviation(m), within(1e-12));
      assertThat(at.terms()).isEqualTo(501 - 2 * m);
      assertThat(at.runs()).hasSize(1);
    }
  }

  /** A ramp that bends over readings 100 to 199 only: terms that touch the bend are left out. */
  @Test
  void theTermsOfABendAreLeftOutAndPartTheRuns() {
    double[] white = Noises.white(400, 1, 10);
    double[] ramp = of(400, i -> i < 100 ? 0 : i < 200 ? i - 100 : 100);
    SettledAllan settled = new SettledAllan(List.of(white), List.of(ramp));
    SettledAllan.Point at = settled.at(1, 0.1);
    assertThat(at.runs()).hasSize(2);
    assertThat(at.terms()).isEqualTo(399 - 100);
    assertThat(settled.at(1, 1).terms()).as("the bend is below the limit").isEqualTo(399);
  }

  @Test
  void pastTheLongestPieceThereIsNoDeviation() {
    SettledAllan settled = new SettledAllan(List.of(new double[5]), List.of(new double[5]));
    assertThat(settled.deviation(3)).isNaN();
    assertThat(settled.at(3, 1).deviation()).isNaN();
    assertThat(settled.at(3, 1).runs()).isEmpty();
  }
}
