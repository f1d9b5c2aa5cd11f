package soakbench.numerics;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.SplittableRandom;
import org.assertj.core.data.Offset;
import org.hipparchus.linear.CholeskyDecomposition;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.RealVector;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The filter against the whole covariance matrix of the same process, from a general library. */
class MarkovNoiseTest {
  private static final int ROWS = 40;

  private final double[] t = new double[ROWS];
  private final double[] weight = new double[ROWS];
  private final double[] y = new double[ROWS];

  MarkovNoiseTest() {
    SplittableRandom random = new SplittableRandom(5);
    for (int i = 0; i < ROWS; i++) {
      double step = 1 + 60 * random.nextDouble();
      t[i] = (i == 0 ? 0 : t[i - 1]) + (i > 10 && i < 25 ? 10 : step);
      weight[i] = 1 + random.nextInt(10);
      y[i] = random.nextGaussian();
    }
  }

  /**
   * Covariance at lag d of what follows an Ornstein-Uhlenbeck process of variance v and length L
   * with time constant B: a second-order system, v L / (L^2 - B^2) (L exp(-d/L) - B exp(-d/B)).
   */
  private static double covariance(double v, double lengthS, double bodyS, double lag) {
    double own = bodyS == 0 ? 0 : bodyS * Math.exp(-lag / bodyS);
    double square = lengthS * lengthS - bodyS * bodyS;
    return v * lengthS / square * (lengthS * Math.exp(-lag / lengthS) - own);
  }

  @ParameterizedTest
  @CsvSource({"0, 100, 0", "4, 100, 0", "4, 30, 700", "250, 900, 500", "1e4, 3000, 40"})
  void itIsTheCovarianceOfTheProcess(double variance, double lengthS, double bodyS) {
    RealMatrix c = MatrixUtils.createRealMatrix(ROWS, ROWS);
    for (int i = 0; i < ROWS; i++) {
      for (int j = 0; j < ROWS; j++) {
        double white = i == j ? 1 / weight[i] : 0;
        c.setEntry(i, j, white + covariance(variance, lengthS, bodyS, Math.abs(t[i] - t[j])));
      }
    }
    CholeskyDecomposition cholesky = new CholeskyDecomposition(c);
    RealVector v = MatrixUtils.createRealVector(y);
    MarkovNoise noise = MarkovNoise.of(t, weight, variance, lengthS, bodyS);
    double[] white = noise.whitened(y);
    double square =
        MatrixUtils.createRealVector(white).dotProduct(MatrixUtils.createRealVector(white));
    assertThat(square)
        .isCloseTo(v.dotProduct(cholesky.getSolver().solve(v)), within(1e-9 * square));
    assertThat(noise.logDeterminant()).isCloseTo(Math.log(cholesky.getDeterminant()), within(1e-9));
  }

  @Test
  void theQuickProjectionAgreesWithTheCarefulFit() {
    double[][] rows = new double[ROWS][3];
    double[][] columns = new double[3][ROWS];
    for (int i = 0; i < ROWS; i++) {
      for (int j = 0; j < 3; j++) {
        rows[i][j] = j == 0 ? 1 : Math.exp(-t[i] / (j * 100));
        columns[j][i] = rows[i][j];
      }
    }
    LinearFit careful = LinearFit.of(rows, y);
    Projection quick = Projection.of(columns, y.clone());
    assertThat(quick.rss()).isCloseTo(careful.rss(), within(1e-10));
    for (int j = 0; j < 3; j++) {
      assertThat(quick.coefficients()[j]).isCloseTo(careful.coefficients()[j], within(1e-8));
    }
    assertThat(quick.unscaledVariance())
        .isCloseTo(careful.unscaledCovariance()[0][0], within(1e-8));
    RealMatrix inverse = MatrixUtils.createRealMatrix(careful.unscaledCovariance());
    assertThat(quick.logGram())
        .isCloseTo(-Math.log(new CholeskyDecomposition(inverse).getDeterminant()), within(1e-8));
  }

  @Test
  void dependentColumnsFitNothing() {
    double[][] columns = {t.clone(), t.clone()};
    assertThat(Projection.of(columns, y.clone()).rss()).isInfinite();
  }

  private static Offset<Double> within(double by) {
    return Offset.offset(by);
  }
}
