package soakbench.thermal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import soakbench.ReferenceFile;
import soakbench.numerics.Noises;

class SlopeTest {
  @Test
  void theLineThroughTheNorrisDataIsTheCertifiedOne() {
    // NIST Statistical Reference Datasets, linear regression, Norris.
    ReferenceFile data = ReferenceFile.of("nist-lls-norris");
    Slope slope = Slope.of(data.column("x"), data.column("y"), 0, data.size());
    ReferenceFile.Certified certified = ReferenceFile.certified("nist-lls-norris");
    assertThat(slope.cPerS()).isCloseTo(certified.value("B1"), within(1e-12));
    assertThat(slope.seCPerS()).isCloseTo(certified.stddev("B1"), within(1e-12));
  }

  @Test
  void fivePointsGiveWhatTheTextbooksFormulaGivesByHand() {
    double[] t = {1, 2, 3, 4, 5};
    double[] c = {2.1, 3.9, 6.2, 7.8, 10.1};
    Slope slope = Slope.of(t, c, 0, 5);
    // Sxy 19.9, Sxx 10; residuals 0.06, -0.13, 0.18, -0.21, 0.10, their squares 0.107 over 3.
    assertThat(slope.cPerS()).isCloseTo(1.99, within(1e-12));
    assertThat(slope.cPerMin()).isCloseTo(119.4, within(1e-10));
    assertThat(slope.seCPerS()).isCloseTo(Math.sqrt(0.107 / 3 / 10), within(1e-12));
  }

  @Test
  void onlyTheSecondsAskedForCount() {
    double[] t = {0, 1, 2, 3, 4, 5};
    double[] c = {99, 20, 20.5, 21, 21.5, 99};
    Slope slope = Slope.of(t, c, 1, 4);
    assertThat(slope.cPerS()).isCloseTo(0.5, within(1e-12));
    assertThat(slope.seCPerS()).isCloseTo(0, within(1e-7));
  }

  @Test
  void twoPointsAreNoLine() {
    assertThat(Slope.of(new double[] {0, 1}, new double[] {1, 2}, 0, 2)).isNull();
  }

  @Test
  void theStandardErrorIsThatOfKnownNoise() {
    // Of n points one second apart: sigma / sqrt(n (n^2 - 1) / 12).
    int n = 60;
    double[] t = new double[n];
    double meanSquare = 0;
    for (int run = 0; run < 400; run++) {
      double[] c = Noises.white(n, 0.02, 100 + run);
      for (int i = 0; i < n; i++) {
        t[i] = i;
        c[i] += 30 + 0.001 * i;
      }
      double off = Slope.of(t, c, 0, n).cPerS() - 0.001;
      meanSquare += off * off / 400;
    }
    double expected = 0.02 / Math.sqrt(n * (n * n - 1.0) / 12);
    assertThat(Math.sqrt(meanSquare)).isCloseTo(expected, within(0.12 * expected));
  }
}
