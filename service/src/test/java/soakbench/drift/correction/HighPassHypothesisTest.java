package soakbench.drift.correction;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.hipparchus.linear.LUDecomposition;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.numerics.HighPassedNoise;
import soakbench.numerics.Noises;

/** The likelihood of a run against the textbook's, worked out with dense matrices. */
class HighPassHypothesisTest {
  private static final double BLOCK_S = 30;

  /**
   * Restricted likelihood with the noise level profiled out: -1/2 ((n - p) ln(r' V^-1 r) + ln|V| +
   * ln|X' V^-1 X| - ln|X' X|), r what generalized least squares leaves (Harville, Biometrika 61,
   * 1974).
   */
  private static double textbook(RealMatrix v, RealMatrix x, double[] y) {
    RealMatrix inverse = new LUDecomposition(v).getSolver().getInverse();
    RealMatrix gram = x.transposeMultiply(inverse.multiply(x));
    double[] b =
        new LUDecomposition(gram)
            .getSolver()
            .getInverse()
            .operate(x.transpose().operate(inverse.operate(y)));
    double[] left = y.clone();
    double[] fitted = x.operate(b);
    for (int i = 0; i < left.length; i++) {
      left[i] -= fitted[i];
    }
    double[] weighted = inverse.operate(left);
    double rss = 0;
    for (int i = 0; i < left.length; i++) {
      rss += left[i] * weighted[i];
    }
    int free = x.getRowDimension() - x.getColumnDimension();
    double plain = logDeterminant(x.transposeMultiply(x));
    return -0.5 * (free * Math.log(rss) + logDeterminant(v) + logDeterminant(gram) - plain);
  }

  private static double logDeterminant(RealMatrix m) {
    return Math.log(new LUDecomposition(m).getDeterminant());
  }

  /** White noise of 1 at 1 s, and flicker whose Allan floor is that of a half-minute's mean. */
  private static RealMatrix covariance(int n, double lowPassS) {
    double b = 1 / 0.664 / Math.sqrt(BLOCK_S);
    double[] row = HighPassedNoise.autocovariance(n, BLOCK_S, 1, b, lowPassS);
    RealMatrix v = MatrixUtils.createRealMatrix(n, n);
    for (int i = 0; i < n; i++) {
      for (int j = 0; j < n; j++) {
        v.setEntry(i, j, row[Math.abs(i - j)]);
      }
    }
    return v;
  }

  private static double likelihood(double lowPassS, double[] y, double[] celsius) {
    HighPassHypothesis.Run run = new HighPassHypothesis(lowPassS).run();
    for (double dps : y) {
      run.add(new double[] {dps, 0, 2 * dps});
    }
    double x = run.logLikelihood(celsius, List.of(0));
    double z = run.logLikelihood(celsius, List.of(2));
    assertThat(run.logLikelihood(celsius, List.of(0, 2))).isCloseTo(x + z, within(1e-9));
    return x;
  }

  @Test
  void asMeasuredItIsALevelAndAStraightLineInTheTemperature() {
    int n = 14;
    double[] y = Noises.white(n, 0.02, 5);
    double[] celsius = new double[n];
    RealMatrix x = MatrixUtils.createRealMatrix(n, 2);
    for (int i = 0; i < n; i++) {
      celsius[i] = 25 + 0.1 * i;
      x.setRow(i, new double[] {1, celsius[i] - 25.65});
    }
    double raw = Double.POSITIVE_INFINITY;
    assertThat(likelihood(raw, y, celsius))
        .isCloseTo(textbook(covariance(n, raw), x, y), within(1e-8));
  }

  /** Within 0.3 degC no coefficient is asked for; the level dies away with the low-pass. */
  @ParameterizedTest
  @ValueSource(doubles = {15, 60, 240})
  void highPassedItIsALevelThatDiesAway(double lowPassS) {
    int n = 12;
    double[] y = Noises.white(n, 0.02, 6);
    double[] celsius = new double[n];
    RealMatrix x = MatrixUtils.createRealMatrix(n, 1);
    for (int i = 0; i < n; i++) {
      celsius[i] = 25 + 0.02 * i;
      x.setEntry(i, 0, Math.exp(-BLOCK_S * i / lowPassS));
    }
    assertThat(likelihood(lowPassS, y, celsius))
        .isCloseTo(textbook(covariance(n, lowPassS), x, y), within(1e-8));
  }

  /** A ramp through a high-pass of time constant c nears rate times c, as 1 - exp(-t / c). */
  @Test
  void highPassedATemperatureRampLevelsOut() {
    int n = 16;
    double c = 60;
    double[] y = Noises.white(n, 0.02, 7);
    double[] celsius = new double[n];
    RealMatrix x = MatrixUtils.createRealMatrix(n, 2);
    for (int i = 0; i < n; i++) {
      celsius[i] = 25 + 0.1 * i;
      double decayed = Math.exp(-BLOCK_S * i / c);
      x.setRow(i, new double[] {decayed, 0.1 / BLOCK_S * c * (1 - decayed)});
    }
    assertThat(likelihood(c, y, celsius)).isCloseTo(textbook(covariance(n, c), x, y), within(1e-8));
  }

  @Test
  void aRunThatIsClearedBeginsAnew() {
    double[] y = Noises.white(10, 0.02, 8);
    double[] celsius = new double[10];
    HighPassHypothesis.Run run = new HighPassHypothesis(60).run();
    run.add(new double[] {9, 9, 9});
    run.clear();
    for (double dps : y) {
      run.add(new double[] {dps, dps, dps});
    }
    assertThat(run.logLikelihood(celsius, List.of(1))).isEqualTo(likelihood(60, y, celsius));
  }

  @Test
  void ratesThatFitExactlyHaveALikelihoodToo() {
    assertThat(likelihood(60, new double[8], new double[8])).isFinite();
  }
}
