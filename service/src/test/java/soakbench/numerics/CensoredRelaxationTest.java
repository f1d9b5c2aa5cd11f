package soakbench.numerics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.data.Offset.offset;

import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.model.TauPrior;

/** Readings of which an interval is known, made from a known model. */
class CensoredRelaxationTest {
  private static final TauPrior BODY = TauPrior.general(800, 0.6);
  private static final double[] GRID = ExponentialFit.logGrid(200, 3200, 41);
  private static final double PLATEAU_C = 32;
  private static final double TAU_S = 700;

  private final double[] t = new double[60];
  private final double[] truth = new double[60];

  CensoredRelaxationTest() {
    for (int i = 0; i < t.length; i++) {
      t[i] = 20.0 * i;
      truth[i] = PLATEAU_C - 8 * Math.exp(-t[i] / TAU_S);
    }
  }

  private double[] shifted(double by) {
    return java.util.Arrays.stream(truth).map(v -> v + by).toArray();
  }

  private Optional<RelaxationPosterior> within(double half, double[] grid) {
    return CensoredRelaxation.of(t, shifted(-half), shifted(half), grid, BODY, 0);
  }

  @ParameterizedTest
  @ValueSource(doubles = {0.02, 0.25})
  void theTruthIsAmongWhatPassesThroughAllIntervals(double half) {
    RelaxationPosterior p = within(half, GRID).orElseThrow();
    Measured plateau = p.mixture().plateau();
    assertThat(plateau.value()).isCloseTo(PLATEAU_C, offset(3 * plateau.se() + half));
    assertThat(p.mixture().present().value()).isCloseTo(truth[59], offset(half));
    assertThat(p.tauQuantile(0.025)).isLessThan(TAU_S);
    assertThat(p.tauQuantile(0.975)).isGreaterThan(TAU_S);
  }

  @Test
  void narrowerIntervalsSayMore() {
    assertThat(within(0.02, GRID).orElseThrow().mixture().plateau().se())
        .isLessThan(0.2 * within(0.25, GRID).orElseThrow().mixture().plateau().se());
  }

  @Test
  void weightsSumToOne() {
    double sum = 0;
    for (double w : within(0.1, GRID).orElseThrow().mixture().weight()) {
      sum += w;
    }
    assertThat(sum).isCloseTo(1, offset(1e-12));
  }

  /**
   * Two readings far apart and four that say nothing: for one tau the pairs (present value, present
   * distance) are the parallelogram between two strips. Of the present value u the spread is even
   * over its interval: its variance is (2 half)^2 / 12.
   */
  @Test
  void theSpreadOfOneTimeConstantIsThatOfAParallelogram() {
    double[] at = {0, 100, 200, 300, 400, 500};
    double[] low = {19, -1e3, -1e3, -1e3, -1e3, 29};
    double[] high = {21, 1e3, 1e3, 1e3, 1e3, 31};
    RelaxationPosterior p =
        CensoredRelaxation.of(at, low, high, new double[] {500}, BODY, 0).orElseThrow();
    assertThat(p.mixture().present().value()).isCloseTo(30, offset(1e-9));
    assertThat(p.mixture().present().se()).isCloseTo(2 / Math.sqrt(12), offset(1e-9));
    // u + v x = 20 +- 1 at the first, so v = (20 - 30) / x, its variance twice 4 / 12 / x^2.
    double x = Math.expm1(1);
    assertThat(p.mixture().given().distance()[0]).isCloseTo(-10 / x, offset(1e-9));
    assertThat(p.mixture().given().distanceVariance()[0])
        .isCloseTo(2 * 4 / 12.0 / (x * x), offset(1e-9));
  }

  @Test
  void whereNoModelPassesThereIsNoAnswerUnlessAMarginLetsIt() {
    double[] low = shifted(-0.01);
    double[] high = shifted(0.01);
    low[30] += 0.5;
    high[30] += 0.5;
    assertThat(CensoredRelaxation.of(t, low, high, GRID, BODY, 0)).isEmpty();
    assertThat(CensoredRelaxation.of(t, low, high, GRID, BODY, 0.3)).isPresent();
  }

  @Test
  void whereTheIntervalsSayNothingOfTheTimeConstantThePriorDoes() {
    double[] none = {0, 1, 2, 3, 4, 5};
    double[] low = {20, 20, 20, 20, 20, 20};
    double[] high = {21, 21, 21, 21, 21, 21};
    RelaxationPosterior p = CensoredRelaxation.of(none, low, high, GRID, BODY, 0).orElseThrow();
    assertThat(p.tauQuantile(0.5)).isBetween(600.0, 1100.0);
  }

  @Test
  void fiveIntervalsAreTooFew() {
    assertThatIllegalArgumentException()
        .isThrownBy(
            () -> CensoredRelaxation.of(new double[5], new double[5], new double[5], GRID, BODY, 0))
        .withMessage("5 intervals are too few: at least 6");
  }
}
