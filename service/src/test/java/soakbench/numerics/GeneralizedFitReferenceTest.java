package soakbench.numerics;

import static org.assertj.core.api.Assertions.assertThat;

import org.assertj.core.data.Percentage;
import org.junit.jupiter.api.Test;
import soakbench.ReferenceFile;

/**
 * Generalized least squares against an independent implementation: {@code gls} of the package nlme
 * 3.1-162 in R 4.2.2, over the 36 readings of Norris (NIST StRD) taken as a series in time. The
 * values were computed once, by the calls named below, and are restricted likelihood's ({@code
 * method = "REML"}).
 */
class GeneralizedFitReferenceTest {
  private static final Percentage NINE_DIGITS = Percentage.withPercentage(1e-7);
  private static final Percentage SEVEN_DIGITS = Percentage.withPercentage(1e-5);

  private final double[] x = ReferenceFile.of("nist-lls-norris").column("x");
  private final double[] y = ReferenceFile.of("nist-lls-norris").column("y");

  /**
   * {@code corExp(c(4, 0.25), form = ~t, nugget = TRUE, fixed = TRUE)}: white plus Markov noise.
   */
  private static double whiteAndMarkov(int apart) {
    return apart == 0 ? 1 : 0.75 * Math.exp(-apart / 4.0);
  }

  /** {@code corAR1(0.6, form = ~t, fixed = TRUE)}. */
  private static double autoregressive(int apart) {
    return Math.pow(0.6, apart);
  }

  private interface Correlation {
    double at(int apart);
  }

  private GeneralizedFit fit(int order, double variance, Correlation correlation) {
    int n = x.length;
    double[][] design = new double[n][order + 1];
    double[][] noise = new double[n][n];
    for (int i = 0; i < n; i++) {
      for (int k = 0; k <= order; k++) {
        design[i][k] = Math.pow(x[i], k);
      }
      for (int j = 0; j < n; j++) {
        noise[i][j] = variance * correlation.at(Math.abs(i - j));
      }
    }
    return GeneralizedFit.of(design, y, noise);
  }

  /** {@code gls(y ~ x)}. */
  @Test
  void aLineUnderWhiteAndMarkovNoiseIsTheirs() {
    GeneralizedFit alone = fit(1, 1, GeneralizedFitReferenceTest::whiteAndMarkov);
    double sigma = Math.sqrt(alone.weightedRss() / alone.degreesOfFreedom());
    assertThat(sigma).isCloseTo(0.99186513298007417, NINE_DIGITS);
    GeneralizedFit fit = fit(1, sigma * sigma, GeneralizedFitReferenceTest::whiteAndMarkov);
    assertThat(fit.coefficients()[0]).isCloseTo(-0.38045509719916026, NINE_DIGITS);
    assertThat(fit.coefficients()[1]).isCloseTo(1.00244997901821042, NINE_DIGITS);
    assertThat(fit.covariance()[0][0]).isCloseTo(1.6415320210334680e-01, NINE_DIGITS);
    assertThat(fit.covariance()[0][1]).isCloseTo(-4.6818216277974687e-05, NINE_DIGITS);
    assertThat(fit.covariance()[1][1]).isCloseTo(1.2462715293763283e-07, NINE_DIGITS);
    assertThat(logLikelihood(fit)).isCloseTo(-48.991848240371283, NINE_DIGITS);
  }

  /** {@code gls(y ~ x + I(x^2))}. */
  @Test
  void aParabolaUnderAnAutoregressionIsTheirs() {
    GeneralizedFit alone = fit(2, 1, GeneralizedFitReferenceTest::autoregressive);
    double sigma = Math.sqrt(alone.weightedRss() / alone.degreesOfFreedom());
    assertThat(sigma).isCloseTo(1.0140371736168976, NINE_DIGITS);
    GeneralizedFit fit = fit(2, sigma * sigma, GeneralizedFitReferenceTest::autoregressive);
    assertThat(fit.coefficients()[0]).isCloseTo(-6.1399386215601925e-01, SEVEN_DIGITS);
    assertThat(fit.coefficients()[1]).isCloseTo(1.0040775381584397, NINE_DIGITS);
    assertThat(fit.coefficients()[2]).isCloseTo(-1.4853147834131159e-06, SEVEN_DIGITS);
    assertThat(fit.covariance()[2][2]).isCloseTo(1.5180436883979526e-12, SEVEN_DIGITS);
    assertThat(fit.covariance()[1][2]).isCloseTo(-1.3688844047776853e-09, SEVEN_DIGITS);
    assertThat(logLikelihood(fit)).isCloseTo(-62.161581545427701, SEVEN_DIGITS);
  }

  /** With the constant that ours leaves out. */
  private static double logLikelihood(GeneralizedFit fit) {
    return fit.restrictedLogLikelihood() - fit.degreesOfFreedom() / 2.0 * Math.log(2 * Math.PI);
  }
}
