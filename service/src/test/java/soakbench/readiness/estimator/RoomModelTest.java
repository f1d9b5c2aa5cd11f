package soakbench.readiness.estimator;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

/** The model of body, room and chip against Newton's model and against its own general form. */
class RoomModelTest {
  private static final Swing CYCLE = new Swing(0.3, 500, 0.04, 1);
  private static final RoomModel LAW = new RoomModel(750, 0.15, CYCLE, 1, 180);

  /** T(t) = P + (T0 - P) exp(-t / tau), lumped heat capacity (Newton's law of cooling). */
  @Test
  void withoutASwingABodyFollowsNewtonsLaw() {
    double[] state = {22, (31 - 22) / 750.0, 0, 0, 1 / 750.0, -1, -2, 0};
    for (int i = 0; i < 120; i++) {
      Thermal.step(state, LAW.block(), 10, null);
    }
    assertThat(state[Thermal.BODY]).isCloseTo(31 - 9 * Math.exp(-1200 / 750.0), within(1e-9));
    assertThat(state[Thermal.CHIP]).isCloseTo(-Math.exp(-1200 / 16.0), within(1e-9));
    assertThat(state[Thermal.CHIP + 1]).isCloseTo(-2 * Math.exp(-1200 / 26.0), within(1e-9));
  }

  /** Steps of ten seconds against one matrix exponential of the whole model. */
  @Test
  void aSwingIsFollowedAsByTheWholeLaw() {
    double k = 1 / 750.0;
    double[][] a = CYCLE.drift();
    double[][] whole = {
      {0, 1, 1, 0}, {0, -k, -k, 0}, {0, 0, 0, 1}, {0, 0, a[1][0], a[1][1]},
    };
    double[] state = {22, 0.004, 3e-4, 2e-6, k, 0, 0, 0};
    double[] start = state.clone();
    for (int i = 0; i < 18; i++) {
      Thermal.step(state, LAW.block(), 10, null);
    }
    double[] move = Discrete.of(whole, new double[4][4], 180).move();
    double expected = 0;
    for (int j = 0; j < 4; j++) {
      expected += move[j] * start[j];
    }
    assertThat(state[Thermal.BODY]).isCloseTo(expected, within(2e-5));
    double[] row = new double[Thermal.SIZE];
    LAW.changeRow(2, k, start[Thermal.SLOPE], row);
    assertThat(LAW.change(2, start, row)).isCloseTo(expected - start[0], within(1e-9));
  }

  @Test
  void derivativesAreThoseOfTheLaw() {
    double[] state = {22, 0.004, 3e-4, 2e-6, 1 / 750.0, -0.5, 0.3, 0.1};
    double[] move = new double[Thermal.SIZE * Thermal.SIZE];
    Thermal.step(state.clone(), LAW.block(), 10, move);
    for (int j = 0; j < Thermal.SIZE; j++) {
      double by = 1e-4 * Math.max(Math.abs(state[j]), 1e-6);
      double[] up = state.clone();
      double[] down = state.clone();
      up[j] += by;
      down[j] -= by;
      Thermal.step(up, LAW.block(), 10, null);
      Thermal.step(down, LAW.block(), 10, null);
      for (int i = 0; i < Thermal.SIZE; i++) {
        double numeric = (up[i] - down[i]) / (2 * by);
        double scale = Math.max(Math.abs(numeric), 1e-6);
        assertThat(move[i * Thermal.SIZE + j]).isCloseTo(numeric, within(2e-3 * scale));
      }
    }
  }

  @Test
  void whatTheRoomMayDoGrowsWithTheHorizon() {
    assertThat(LAW.unforeseen(0)).isPositive().isLessThan(LAW.unforeseen(1));
    assertThat(LAW.unforeseen(1)).isLessThan(LAW.unforeseen(2));
  }

  @Test
  void aCurveStaysWhereItIsWhenItsReferenceMoves() {
    Belief axis = new Belief(new double[Axis.SIZE], new double[Axis.SIZE]);
    axis.setMean(Axis.BIAS, 0.3);
    axis.setMean(Axis.SLOPE, 0.02);
    axis.setMean(Axis.BEND, 0.001);
    Axis.moveReference(axis, 0, 2);
    assertThat(axis.mean(Axis.BIAS)).isCloseTo(0.3 + 0.04 + 0.002, within(1e-12));
    assertThat(axis.mean(Axis.SLOPE)).isCloseTo(0.022, within(1e-12));
    Axis.moveReference(axis, 0, -2);
    assertThat(axis.mean(Axis.BIAS)).isCloseTo(0.3, within(1e-12));
    assertThat(axis.cov(Axis.SLOPE, Axis.SLOPE)).as("it may have bent").isPositive();
  }

  /** B of IEEE Std 952: the density between the two ends is B^2 / (2 pi f). */
  @Test
  void flickerHasItsSizeBetweenTheTwoTimeConstants() {
    double b = 10 / 3600.0;
    double v = Axis.flickerVariance(10);
    double f = 1 / (2 * Math.PI * Math.sqrt(60 * 500.0));
    double density = 0;
    for (double tau : new double[] {60, 500}) {
      density += 2 * v * tau / (1 + Math.pow(2 * Math.PI * f * tau, 2));
    }
    // Two processes three octaves apart sag a little in between; twice for one-sided density.
    assertThat(2 * density / (b * b / (2 * Math.PI * f))).isBetween(0.75, 1.0);
  }

  @Test
  void aMixturesQuantileIsWhereItsShareIs() {
    Spread s =
        new Spread(new double[] {0.5, 0.3, 0.2}, new double[] {0, 1, -4}, new double[] {1, 0.1, 2});
    for (double p : new double[] {0.05, 0.3, 0.5, 0.95}) {
      assertThat(s.below(s.quantile(p))).isCloseTo(p, within(2e-4));
      assertThat(s.above(s.quantile(p))).isCloseTo(1 - p, within(2e-4));
    }
    assertThat(s.outside(3)).isCloseTo(s.above(3) + s.below(-3), within(1e-15));
  }
}
