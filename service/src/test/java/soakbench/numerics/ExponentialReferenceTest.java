package soakbench.numerics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import soakbench.ReferenceFile;
import soakbench.ReferenceFile.Certified;
import soakbench.numerics.ExponentialFit.Result;

/**
 * Exponentials against the certified results of the NIST Statistical Reference Datasets (StRD),
 * nonlinear least squares.
 */
class ExponentialReferenceTest {

  /** One set, where the fit begins, and the digits that must agree. */
  enum Accuracy {
    /** NIST StRD Misra1a: D. Misra 1978, monomolecular adsorption; b1 (1 - exp(-b2 x)). */
    MISRA1A_OWN_START("nist-nls-misra1a", 10),
    MISRA1A_FROM_START1("nist-nls-misra1a", 10),
    MISRA1A_FROM_START2("nist-nls-misra1a", 10),
    /** NIST StRD MGH17: M. R. Osborne 1972; b1 + b2 exp(-x b4) + b3 exp(-x b5). */
    MGH17_OWN_START("nist-nls-mgh17", 8),
    MGH17_FROM_START2("nist-nls-mgh17", 8);

    final String set;
    final double digits;

    Accuracy(String set, double digits) {
      this.set = set;
      this.digits = digits;
    }

    boolean oneTimeConstant() {
      return set.endsWith("misra1a");
    }

    Certified certified() {
      return ReferenceFile.certified(set);
    }

    Result fit() {
      double[] x = ReferenceFile.of(set).column("x");
      double[] y = ReferenceFile.of(set).column("y");
      ExponentialFit fit =
          oneTimeConstant()
              ? ExponentialFit.withTimeConstants(1).withStartHeld(0)
              : ExponentialFit.withTimeConstants(2);
      return switch (this) {
        case MISRA1A_OWN_START, MGH17_OWN_START -> fit.fit(x, y);
        case MISRA1A_FROM_START1 -> fit.fitFrom(x, y, taus("start1.b2"));
        case MISRA1A_FROM_START2 -> fit.fitFrom(x, y, taus("start2.b2"));
        case MGH17_FROM_START2 -> fit.fitFrom(x, y, taus("start2.b4", "start2.b5"));
      };
    }

    private double[] taus(String... rates) {
      double[] out = new double[rates.length];
      for (int i = 0; i < out.length; i++) {
        out[i] = 1 / certified().value(rates[i]);
      }
      return out;
    }

    /** Our law's figures in the certified model's terms: value and standard deviation. */
    double[][] inTheirTerms(Result r) {
      if (oneTimeConstant()) {
        // The amplitude is -b1, the rate 1/tau; d(1/tau) = -(1/tau) d(ln tau).
        double b2 = 1 / r.timeConstants()[0];
        return new double[][] {
          {r.plateau(), Math.sqrt(r.covariance()[0][0])}, {b2, b2 * Math.sqrt(r.covariance()[1][1])}
        };
      }
      // Fastest first here; they name the slower one first.
      double b4 = 1 / r.timeConstants()[1];
      double b5 = 1 / r.timeConstants()[0];
      return new double[][] {
        {r.plateau(), Math.sqrt(r.covariance()[0][0])},
        {r.amplitudes()[1], Math.sqrt(r.covariance()[2][2])},
        {r.amplitudes()[0], Math.sqrt(r.covariance()[1][1])},
        {b4, b4 * Math.sqrt(r.covariance()[4][4])},
        {b5, b5 * Math.sqrt(r.covariance()[3][3])}
      };
    }
  }

  @ParameterizedTest
  @EnumSource
  void parametersAndTheirStandardDeviationsAgree(Accuracy set) {
    double[][] ours = set.inTheirTerms(set.fit());
    for (int k = 0; k < ours.length; k++) {
      String name = "b" + (k + 1);
      assertThat(Digits.agreeing(ours[k][0], set.certified().value(name)))
          .as("digits of %s", name)
          .isGreaterThanOrEqualTo(set.digits);
      assertThat(Digits.agreeing(ours[k][1], set.certified().stddev(name)))
          .as("digits of the deviation of %s", name)
          .isGreaterThanOrEqualTo(set.digits);
    }
  }

  @ParameterizedTest
  @EnumSource
  void theResidualsAgree(Accuracy set) {
    Result fit = set.fit();
    Certified certified = set.certified();
    assertThat(Digits.agreeing(fit.residualSd(), certified.value("residual_sd")))
        .isGreaterThanOrEqualTo(set.digits);
    assertThat(fit.degreesOfFreedom()).isEqualTo((int) certified.value("degrees_of_freedom"));
  }

  /**
   * Y. A. Cengel, Heat and Mass Transfer: Fundamentals and Applications, Example 4-1: a
   * thermocouple junction in a gas stream warms by the lumped law.
   */
  @Test
  void theLumpedThermocoupleFollowsOurLaw() {
    ReferenceFile data = ReferenceFile.of("lumped-thermocouple");
    Certified published = ReferenceFile.certified("lumped-thermocouple");
    double lc = data.column("diameter_m")[0] / 6;
    double rate = data.column("h")[0] / (data.column("rho")[0] * data.column("c")[0] * lc);
    assertThat(data.column("h")[0] * lc / data.column("k")[0]).isEqualTo(0.001, within(5e-7));
    assertThat(rate).isEqualTo(published.value("rate_unrounded"), within(5e-10));
    double[] t = new double[200];
    double[] y = new double[200];
    for (int i = 0; i < t.length; i++) {
      t[i] = i * 0.1;
      y[i] = 200 - 175 * Math.exp(-rate * t[i]);
    }
    Result fit = ExponentialFit.withTimeConstants(1).fit(t, y);
    double tau = fit.timeConstants()[0];
    assertThat(tau).isEqualTo(published.value("tau_unrounded"), within(5e-9));
    assertThat(tau * Math.log(100)).isEqualTo(published.value("t_99pct_unrounded"), within(5e-9));
    double at99 = fit.at(published.value("t_99pct_unrounded"));
    assertThat((at99 - 25) / 175).isEqualTo(0.99, within(1e-9));
  }

  @Test
  void twoTimeConstantsComeOutFastestFirst() {
    double[] t = ExponentialFit.logGrid(1, 3000, 120);
    double[] y = new double[t.length];
    for (int i = 0; i < t.length; i++) {
      y[i] = 32 - 8 * Math.exp(-t[i] / 700) - 2 * Math.exp(-t[i] / 30);
    }
    Result fit = ExponentialFit.withTimeConstants(2).fit(t, y);
    assertThat(fit.timeConstants()[0]).isEqualTo(30, within(1e-6));
    assertThat(fit.timeConstants()[1]).isEqualTo(700, within(1e-6));
    assertThat(fit.amplitudes()[0]).isEqualTo(-2, within(1e-8));
    assertThat(fit.plateau()).isEqualTo(32, within(1e-8));
  }

  @Test
  void whatCanNotBeFittedIsRefusedWithItsReason() {
    assertThatThrownBy(() -> ExponentialFit.withTimeConstants(3))
        .hasMessage("3 time constants: only 1 or 2 can be fitted");
    double[] three = {1, 2, 3};
    assertThatThrownBy(() -> ExponentialFit.withTimeConstants(1).fit(three, three))
        .hasMessage("3 points are too few for 1 time constants: at least 4");
  }

  private static org.assertj.core.data.Offset<Double> within(double by) {
    return org.assertj.core.data.Offset.offset(by);
  }
}
