package soakbench.numerics.allan;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import org.assertj.core.data.Percentage;
import org.junit.jupiter.api.Test;

class AllanFitTest {
  private static final Percentage EXACT = Percentage.withPercentage(1e-6);

  private static List<AllanFit.Reading> readings(double n, double b, double k) {
    List<AllanFit.Reading> out = new ArrayList<>();
    for (int m = 1; m <= 1024; m *= 2) {
      double v = n * n / m + 2 * Math.log(2) / Math.PI * b * b + k * k * m / 3;
      out.add(new AllanFit.Reading(m, v, 4000.0 / m));
    }
    return out;
  }

  @Test
  void aLawOfAllThreeComesOutAsItWentIn() {
    AllanFit fit = AllanFit.of(readings(0.01, 0.002, 1e-4));
    assertThat(Math.sqrt(fit.parts()[0])).isCloseTo(0.01, EXACT);
    assertThat(Math.sqrt(fit.parts()[1])).isCloseTo(0.002, EXACT);
    assertThat(Math.sqrt(fit.parts()[2])).isCloseTo(1e-4, EXACT);
    // IEEE Std 952: N at 1 s, the floor 0.664 B, K at 3 s.
    assertThat(Math.sqrt(fit.parts()[0] * AllanFit.shape(0, 1))).isCloseTo(0.01, EXACT);
    assertThat(Math.sqrt(AllanFit.shape(1, 77))).isCloseTo(0.664, Percentage.withPercentage(0.1));
    assertThat(AllanFit.shape(2, 3)).isCloseTo(1.0, EXACT);
  }

  @Test
  void whatIsNotThereIsNought() {
    AllanFit white = AllanFit.of(readings(0.01, 0, 0));
    assertThat(white.parts()[1]).isLessThan(1e-9);
    assertThat(white.parts()[2]).isLessThan(1e-9);
    assertThat(white.share(0, 1000)).isCloseTo(1, Percentage.withPercentage(0.1));
    AllanFit flicker = AllanFit.among(readings(0, 0.002, 0), AllanFit.FLICKER);
    assertThat(flicker.parts()[0]).isZero();
    assertThat(Math.sqrt(flicker.parts()[1])).isCloseTo(0.002, EXACT);
  }

  /** N^2 alone: variance 2 / (sum of degrees of freedom) of itself. */
  @Test
  void theErrorOfALonePartIsThatOfAPooledVariance() {
    List<AllanFit.Reading> readings = readings(0.01, 0, 0);
    double df = readings.stream().mapToDouble(AllanFit.Reading::degreesOfFreedom).sum();
    AllanFit fit = AllanFit.among(readings, AllanFit.WHITE);
    double relative = Math.sqrt(fit.covariance()[0][0]) / fit.parts()[0];
    assertThat(relative).isCloseTo(Math.sqrt(2 / df), EXACT);
  }
}
