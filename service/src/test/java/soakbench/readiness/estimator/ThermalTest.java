package soakbench.readiness.estimator;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import java.util.stream.IntStream;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The step of the thermal entries against the same by plain matrices. */
class ThermalTest {
  private static final RoomModel MODEL =
      new RoomModel(750, 0.15, new Swing(0.4, 560, 0.04, 1), 1, 180);

  /** With the entries of nobody's axes, of one and of three behind them. */
  @ParameterizedTest
  @ValueSource(ints = {0, 6, 18})
  void aStepCarriesTheWholeCovarianceAsTheMatricesDo(int more) {
    int n = Thermal.SIZE + more;
    SplittableRandom random = new SplittableRandom(41);
    RealMatrix before = covariance(n, random);
    Belief belief = belief(before, random);
    double[] move = new double[Thermal.SIZE * Thermal.SIZE];
    double[] stir = new double[Thermal.SIZE * Thermal.SIZE];
    double k = Thermal.inverse(belief.means());
    double mid = Thermal.mid(k, Blocks.BLOCK_S);
    Thermal.stir(k, MODEL.block(), Blocks.BLOCK_S, mid, MODEL.swingVariance(), 4e-4, stir);
    Thermal.step(belief.means(), MODEL.block(), Blocks.BLOCK_S, move);
    RealMatrix f = MatrixUtils.createRealIdentityMatrix(n);
    RealMatrix q = MatrixUtils.createRealMatrix(n, n);
    for (int i = 0; i < Thermal.SIZE; i++) {
      for (int j = 0; j < Thermal.SIZE; j++) {
        f.setEntry(i, j, move[i * Thermal.SIZE + j]);
        q.setEntry(i, j, stir[Math.min(i, j) * Thermal.SIZE + Math.max(i, j)]);
      }
    }
    RealMatrix expected = f.multiply(before).multiply(f.transpose()).add(q);

    Thermal.carry(belief, move, stir, new double[Thermal.LEADS * n]);

    for (int i = 0; i < n; i++) {
      for (int j = 0; j < n; j++) {
        double scale = Math.sqrt(expected.getEntry(i, i) * expected.getEntry(j, j));
        assertThat(belief.cov(i, j))
            .as("%d, %d", i, j)
            .isCloseTo(expected.getEntry(i, j), within(1e-13 * scale));
      }
    }
  }

  private static RealMatrix covariance(int n, SplittableRandom random) {
    RealMatrix half = MatrixUtils.createRealMatrix(n, n);
    for (int i = 0; i < n; i++) {
      for (int j = 0; j < n; j++) {
        half.setEntry(i, j, 0.1 * random.nextGaussian());
      }
    }
    return half.multiply(half.transpose());
  }

  private static Belief belief(RealMatrix covariance, SplittableRandom random) {
    int n = covariance.getRowDimension();
    double[] mean = IntStream.range(0, n).mapToDouble(i -> random.nextGaussian()).toArray();
    mean[Thermal.INVERSE] = 1 / 700.0;
    Belief belief = new Belief(mean, new double[n]);
    for (int i = 0; i < n; i++) {
      for (int j = i; j < n; j++) {
        belief.addCov(i, j, covariance.getEntry(i, j));
      }
    }
    return belief;
  }
}
