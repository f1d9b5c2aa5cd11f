package soakbench.numerics.allan;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Locale;
import org.assertj.core.data.Percentage;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import soakbench.ReferenceFile;
import soakbench.numerics.Noises;
import soakbench.numerics.allan.AllanConfidence.Kind;
import soakbench.numerics.allan.AllanDeviation.Point;

class AllanConfidenceTest {

  /**
   * NIST Special Publication 1065, table 32: error bars of the 1000-point suite at an averaging
   * factor of 10, white frequency noise. Its chi-squared quantiles are rounded to some three
   * digits, so the limits agree with exact ones to a fifth of a percent, the degrees of freedom to
   * all that is printed.
   */
  @Test
  void theDegreesOfFreedomOfTheThousandPointsAgreeInEveryPrintedDigit() {
    double edf = AllanConfidence.degreesOfFreedom(Kind.WHITE, 1001, 10);
    assertThat(String.format(Locale.ROOT, "%.3f", edf)).isEqualTo("146.177");
    double deviation =
        Double.parseDouble(ReferenceFile.certified("riley-1000").printed("oadev_tau10"));
    double[] limits = AllanConfidence.limits(deviation, edf, 0.95);
    assertThat(limits[0]).isCloseTo(8.223942e-02, Percentage.withPercentage(0.2));
    assertThat(limits[1]).isCloseTo(1.035201e-01, Percentage.withPercentage(0.2));
  }

  /** 2 mean^2 / variance of the estimate over many records. */
  private static double simulated(Kind kind, int n, int m) {
    int runs = 600;
    double sum = 0;
    double squares = 0;
    for (int run = 0; run < runs; run++) {
      double[] rates =
          switch (kind) {
            case WHITE -> Noises.white(n, 1, 31_000 + run);
            case FLICKER -> Noises.flicker(n, 1, 32_000 + run);
            case RANDOM_WALK -> walk(n, 33_000 + run);
          };
      Point p = AllanDeviation.overlapping(List.of(rates), new int[] {m}).get(0);
      double v = p.deviation() * p.deviation();
      sum += v;
      squares += v * v;
    }
    double mean = sum / runs;
    return 2 * mean * mean / (squares / runs - mean * mean);
  }

  private static double[] walk(int n, long seed) {
    double[] out = Noises.white(n, 1, seed);
    for (int i = 1; i < n; i++) {
      out[i] += out[i - 1];
    }
    return out;
  }

  @ParameterizedTest
  @CsvSource({
    "WHITE,1",
    "WHITE,8",
    "WHITE,64",
    "FLICKER,8",
    "FLICKER,64",
    "RANDOM_WALK,8",
    "RANDOM_WALK,64"
  })
  void theDegreesOfFreedomAreThoseThatSimulatedRecordsShow(Kind kind, int m) {
    double formula = AllanConfidence.degreesOfFreedom(kind, 513, m);
    double seen = simulated(kind, 512, m);
    System.out.printf(Locale.ROOT, "%s, m %d: edf %.1f, simulated %.1f%n", kind, m, formula, seen);
    assertThat(seen / formula).isBetween(0.7, 1.45);
  }

  @Test
  void whiteNoiseFallsWithTheRootAndFlickerStaysFlat() {
    double[] white = Noises.white(200_000, 0.02, 5);
    List<double[]> flicker =
        java.util.stream.IntStream.range(0, 60)
            .mapToObj(run -> Noises.flicker(4096, 0.003, 700 + run))
            .toList();
    for (int m : new int[] {1, 4, 16, 64, 256}) {
      double w = AllanDeviation.overlapping(List.of(white), new int[] {m}).get(0).deviation();
      double edf = AllanConfidence.degreesOfFreedom(Kind.WHITE, 200_001, m);
      Percentage threeErrors = Percentage.withPercentage(300 / Math.sqrt(2 * edf));
      assertThat(w).as("white, %s s", m).isCloseTo(0.02 / Math.sqrt(m), threeErrors);
      double f = AllanDeviation.overlapping(flicker, new int[] {m}).get(0).deviation();
      double floor = m == 1 ? 0.8 : 1;
      assertThat(f / (0.664 * 0.003)).as("flicker, %s s", m).isBetween(0.8 * floor, 1.15);
    }
  }
}
