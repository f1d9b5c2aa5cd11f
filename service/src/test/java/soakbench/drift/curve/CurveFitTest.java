package soakbench.drift.curve;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.numerics.RegressionDesign;

/** Curves of known polynomials, without noise: what goes in comes out. */
class CurveFitTest {
  private static final double LAG_SD = 0.15;
  private static final double[] NOISE = {0.01, 0.01, 0.01};

  /** 0.1 + 0.02 (T - 30) - 0.001 (T - 30)^2. */
  private static double quadratic(double celsius) {
    double u = celsius - 30;
    return 0.1 + 0.02 * u - 0.001 * u * u;
  }

  private static List<CurveBlock> warming(int count) {
    return CurveBlocks.of(count, t -> 24 + 0.005 * t, CurveFitTest::quadratic);
  }

  private static CurveFit fit(List<CurveBlock> blocks, double referenceC) {
    return BiasCurveFitter.of(blocks, 2, LAG_SD, referenceC, NOISE).axes().get(1);
  }

  @ParameterizedTest
  @ValueSource(doubles = {24, 28, 30, 33})
  void aKnownQuadraticComesOutAboutAnyTemperature(double referenceC) {
    CurveFit fit = fit(warming(60), referenceC);
    double u = referenceC - 30;
    double[] c = fit.coefficients();
    assertThat(c[0]).isCloseTo(quadratic(referenceC), within(1e-7));
    assertThat(c[1]).isCloseTo(0.02 - 0.002 * u, within(1e-7));
    assertThat(c[2]).isCloseTo(-0.001, within(1e-7));
    assertThat(c[3]).as("the power left out").isZero();
    assertThat(fit.residualSdDps()).isLessThan(1e-7);
  }

  @Test
  void weightsOfTheCoefficientsAreThePowersAndTheirSlopes() {
    CurveFit fit = fit(warming(40), 26);
    assertThat(fit.at(29)).containsExactly(1, 3, 9, 27);
    assertThat(fit.slopeAt(29)).containsExactly(0, 1, 6, 27);
    assertThat(fit.difference(27, 29)).containsExactly(0, 2, 8, 26);
    double[] g = fit.difference(25, 29);
    assertThat(fit.value(g)).isCloseTo(quadratic(29) - quadratic(25), within(1e-7));
    assertThat(fit.estimate(g).se()).isEqualTo(fit.standardError(g));
  }

  @Test
  void beyondTheRangeTheIntervalGrowsByThePowerThatIsLeftOut() {
    CurveFit fit = fit(warming(60), 28);
    double inside = fit.standardError(fit.at(28));
    double outside = fit.standardError(fit.at(43));
    double farther = fit.standardError(fit.at(58));
    assertThat(outside).isGreaterThan(5 * inside);
    assertThat(farther).as("a cubic's growth, at twice the distance").isGreaterThan(6 * outside);
  }

  /** 0.02 / 30^2 deg/s per degC^3 is believed of the cubic where the square is the last told. */
  @Test
  void thePowerLeftOutHasTheErrorThatIsBelievedOfIt() {
    assertThat(fit(warming(60), 28).covariance()[3][3])
        .isCloseTo(Math.pow(0.02 / 900, 2), within(1e-20));
  }

  @Test
  void eachPoseHasItsOffsetAndTheNewestsIsTold() {
    List<CurveBlock> first = CurveBlocks.inPose(4, 0.3, warming(30));
    List<CurveBlock> both = CurveBlocks.after(first, CurveBlocks.inPose(7, -0.2, warming(30)));
    assertThat(fit(both, 27).coefficients()[0]).isCloseTo(quadratic(27) - 0.2, within(1e-6));
  }

  @Test
  void blocksThatDoNotBelongAreLeftOutAndCounted() {
    List<CurveBlock> blocks = new java.util.ArrayList<>(warming(60));
    CurveBlock b = blocks.get(30);
    double[] off = {b.biasDps()[0], b.biasDps()[1] + 0.5, b.biasDps()[2]};
    blocks.set(
        30,
        new CurveBlock(
            b.midS(), b.widthS(), b.temperatureC(), b.rateCPerS(), b.sinceBootS(), off, 0));
    BiasCurveFitter fitter = BiasCurveFitter.of(blocks, 2, LAG_SD, 28, NOISE);
    assertThat(fitter.dropped()).isEqualTo(1);
    assertThat(fitter.design().blocks()).hasSize(59).doesNotContain(blocks.get(30));
    assertThat(fitter.axes().get(1).coefficients()[1]).isCloseTo(0.024, within(1e-6));
  }

  @Test
  void oneTemperatureCannotTellAnyPower() {
    List<CurveBlock> level = CurveBlocks.of(20, t -> 25, c -> 0.1);
    assertThatThrownBy(() -> fit(level, 25)).isInstanceOf(IllegalArgumentException.class);
  }

  @Test
  void theColumnsAreOffsetsPowersAndTheRate() {
    List<CurveBlock> blocks =
        CurveBlocks.after(
            CurveBlocks.inPose(4, 0, warming(3)), CurveBlocks.inPose(9, 0, warming(2)));
    CurveDesign design = CurveDesign.of(blocks, 2, LAG_SD);
    assertThat(design.poses()).containsExactly(4, 9);
    assertThat(design.lagIndex()).isEqualTo(4);
    assertThat(design.unknowns()).isEqualTo(5);
    RegressionDesign regression = design.and(new double[] {7, 8, 9, 10, 11}).regression();
    double rate = 0.005;
    double[][] rows = regression.columns();
    assertThat(rows[0]).containsExactly(new double[] {1, 0, -1, 1, rate, 7}, within(1e-12));
    assertThat(rows[2]).containsExactly(new double[] {1, 0, 1, 1, rate, 9}, within(1e-12));
    assertThat(rows[3]).containsExactly(new double[] {0, 1, -1, 1, rate, 10}, within(1e-12));
    assertThat(regression.priorSd()[4]).isEqualTo(LAG_SD);
    assertThat(regression.priorSd()[0]).isInfinite();
  }

  @Test
  void withoutTheOffsetsEachPosesColumnsSumToNothing() {
    List<CurveBlock> blocks =
        CurveBlocks.after(
            CurveBlocks.inPose(1, 0, warming(5)), CurveBlocks.inPose(2, 0, warming(4)));
    double[][] rows = CurveDesign.of(blocks, 2, LAG_SD).withoutOffsets(true);
    assertThat(rows[0]).as("two powers and the rate").hasSize(3);
    for (int c = 0; c < 3; c++) {
      double first = 0;
      double second = 0;
      for (int i = 0; i < rows.length; i++) {
        first += i < 5 ? rows[i][c] : 0;
        second += i < 5 ? 0 : rows[i][c];
      }
      assertThat(first).isCloseTo(0, within(1e-12));
      assertThat(second).isCloseTo(0, within(1e-12));
    }
  }
}
