package soakbench.live.watch;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import soakbench.ReferenceFile;
import soakbench.ReferenceFile.Certified;
import soakbench.model.Bin.Channel;
import soakbench.model.Sample;

/**
 * Mean and standard deviation of a second against the NIST Statistical Reference Datasets,
 * univariate summary statistics: Lottery, NumAcc1, NumAcc2, NumAcc3. Their autocorrelation is left
 * out: nothing here computes one.
 */
class OpenBinReferenceTest {

  /** Doubles themselves allow 9.5 digits of NumAcc3's deviation. */
  @ParameterizedTest
  @CsvSource({
    "nist-univ-lottery, 14.5, 14.5",
    "nist-univ-numacc1, 14.5, 14.5",
    "nist-univ-numacc2, 14.5, 14.2",
    "nist-univ-numacc3, 14.5, 9.4"
  })
  void meanAndDeviationAreThePublishedOnes(String set, double meanDigits, double sdDigits) {
    Certified published = ReferenceFile.certified(set);
    Channel figures = OpenBin.figures(ReferenceFile.of(set).column("y"));
    assertThat(figures.count()).isEqualTo((int) published.value("n"));
    assertThat(digits(figures.mean(), published.value("mean")))
        .as("digits of the mean %s", figures.mean())
        .isGreaterThanOrEqualTo(meanDigits);
    assertThat(digits(figures.sd(), published.value("stddev")))
        .as("digits of the deviation %s", figures.sd())
        .isGreaterThanOrEqualTo(sdDigits);
  }

  /** Samples are single precision, which holds these two sets exactly. */
  @ParameterizedTest
  @CsvSource({"nist-univ-lottery", "nist-univ-numacc1"})
  void theClosedSecondCarriesThePublishedFigures(String set) {
    double[] y = ReferenceFile.of(set).column("y");
    OpenBin open = new OpenBin("T1", 0);
    for (int i = 0; i < y.length; i++) {
      open.add(new Sample("T1", i, 25, false, 0, 0, 0, (float) y[i], 0, 1, -1, -1));
    }
    Certified published = ReferenceFile.certified(set);
    Channel figures = open.close(1).accelG()[0];
    assertThat(figures.count()).isEqualTo(y.length);
    assertThat(digits(figures.mean(), published.value("mean"))).isGreaterThanOrEqualTo(14.5);
    assertThat(digits(figures.sd(), published.value("stddev"))).isGreaterThanOrEqualTo(14.5);
  }

  /** Digits that agree, the logarithm of the relative error; 15 where all do. */
  private static double digits(double value, double published) {
    double error = Math.abs(value - published) / Math.abs(published);
    return error < 1e-15 ? 15 : -Math.log10(error);
  }
}
