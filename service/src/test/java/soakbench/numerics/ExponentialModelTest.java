package soakbench.numerics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.SplittableRandom;
import org.hipparchus.distribution.continuous.TDistribution;
import org.junit.jupiter.api.Test;

/** Exponential models with limits, and the noise that they find, on made-up records. */
class ExponentialModelTest {
  private static final int ROWS = 240;
  private static final double STEP_S = 10;
  private static final double TAU_S = 400;

  private final double[] t = new double[ROWS];
  private final double[] weight = new double[ROWS];
  private final double[] clean = new double[ROWS];

  ExponentialModelTest() {
    for (int i = 0; i < ROWS; i++) {
      t[i] = STEP_S * i;
      weight[i] = 10;
      clean[i] = 32 - 8 * Math.exp(-t[i] / TAU_S);
    }
  }

  /** Over six time constants all is nearly normal: the limits are those of the Jacobian. */
  @Test
  void inALongRecordTheProfilesLimitsAreStandardErrors() {
    double[] y = Noises.sum(clean, Noises.white(ROWS, 0.02, 2));
    ExponentialModel model = ExponentialModel.of(t, y, weight, 1);
    double[] tau = model.profile().timeConstants()[0];
    double se = Math.sqrt(model.fit().covariance()[2][2]);
    double estimate = model.fit().timeConstants()[0];
    assertThat(tau[0]).isCloseTo(estimate * Math.exp(-model.quantile() * se), within(0.5));
    assertThat(tau[1]).isCloseTo(estimate * Math.exp(model.quantile() * se), within(0.5));
    assertThat(estimate).isCloseTo(TAU_S, within(4 * se * TAU_S));
    assertThat(model.residualSd(t, y)).isCloseTo(0.02, within(0.003));
    double[] plateau = model.profile().plateau();
    assertThat(plateau[0]).isLessThan(model.fit().plateau());
    assertThat(plateau[1]).isGreaterThan(model.fit().plateau());
  }

  @Test
  void whiteNoiseIsFoundToBeWhite() {
    double[] y = Noises.sum(clean, Noises.white(ROWS, 0.02, 3));
    ExponentialModel model = ExponentialModel.of(t, y, weight, 1);
    assertThat(model.noise().lengthS()).isZero();
    double t975 = new TDistribution(ROWS - 3).inverseCumulativeProbability(0.975);
    assertThat(model.quantile()).isCloseTo(t975, within(1e-9));
  }

  /** A wander counts as one reading for each two of its lengths, three at least. */
  @Test
  void aWanderOfTheReadingsIsFoundAndWidensTheLimits() {
    SplittableRandom random = new SplittableRandom(6);
    double[] wandering = Noises.sum(clean, Noises.white(ROWS, 0.005, 4));
    double walk = 0;
    for (int i = 0; i < ROWS; i++) {
      double keep = Math.exp(-STEP_S / 60);
      walk = keep * walk + 0.05 * Math.sqrt(1 - keep * keep) * random.nextGaussian();
      wandering[i] += walk;
    }
    ExponentialModel model = ExponentialModel.of(t, wandering, weight, 1);
    double lengthS = model.noise().lengthS();
    assertThat(lengthS).isIn(20.0, 60.0, 180.0, 120.0);
    double df = Math.max(3, t[ROWS - 1] / (2 * lengthS));
    assertThat(model.quantile())
        .isCloseTo(new TDistribution(df).inverseCumulativeProbability(0.975), within(1e-9));
    double[] white = Noises.sum(clean, Noises.white(ROWS, 0.05, 4));
    assertThat(spread(model)).isGreaterThan(1.5 * spread(ExponentialModel.of(t, white, weight, 1)));
  }

  private static double spread(ExponentialModel model) {
    double[] tau = model.profile().timeConstants()[0];
    return Math.log(tau[1] / tau[0]);
  }

  @Test
  void aRecordShorterThanItsTimeConstantHasNoUpperLimitOrALopsidedOne() {
    double[] shortT = Arrays.copyOf(t, 20);
    double[] y = Arrays.copyOf(Noises.sum(clean, Noises.white(ROWS, 0.02, 5)), 20);
    ExponentialModel model = ExponentialModel.of(shortT, y, Arrays.copyOf(weight, 20), 1);
    double[] tau = model.profile().timeConstants()[0];
    double estimate = model.fit().timeConstants()[0];
    assertThat(tau[0]).isLessThan(TAU_S);
    assertThat(tau[1]).isGreaterThan(TAU_S);
    assertThat(Math.log(tau[1] / estimate)).isGreaterThan(Math.log(estimate / tau[0]));
  }

  @Test
  void twoTimeConstantsHaveLimitsOfTheirOwn() {
    double[] y = Noises.white(ROWS, 0.004, 7);
    for (int i = 0; i < ROWS; i++) {
      y[i] += 32 - 3 * Math.exp(-t[i] / 40) - 8 * Math.exp(-t[i] / TAU_S);
    }
    ExponentialModel model = ExponentialModel.of(t, y, weight, 2);
    double[][] taus = model.profile().timeConstants();
    assertThat(taus[0][0]).isLessThan(40);
    assertThat(taus[0][1]).isGreaterThan(40).isLessThan(60);
    assertThat(taus[1][0]).isLessThan(TAU_S).isGreaterThan(350);
    assertThat(taus[1][1]).isGreaterThan(TAU_S);
  }

  @Test
  void theSearchPrefersWhiteNoiseForWhiteResiduals() {
    double[][] level = new double[1][ROWS];
    Arrays.fill(level[0], 1);
    MarkovNoise white = MarkovSearch.of(t, weight, 400, level, Noises.white(ROWS, 1, 11));
    assertThat(white.lengthS()).isZero();
    double[] slow = Noises.white(ROWS, 1, 12);
    for (int i = 1; i < ROWS; i++) {
      slow[i] = 0.97 * slow[i - 1] + 0.24 * slow[i];
    }
    assertThat(MarkovSearch.of(t, weight, 400, level, slow).lengthS()).isGreaterThanOrEqualTo(120);
  }
}
