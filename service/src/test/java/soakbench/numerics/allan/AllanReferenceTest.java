package soakbench.numerics.allan;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.ReferenceFile;
import soakbench.numerics.allan.AllanDeviation.Point;

/**
 * Overlapping Allan deviation against the 1000-point test suite of NIST Special Publication 1065
 * (W. J. Riley, Handbook of Frequency Stability Analysis, 2008), section 12.4, table 31.
 */
class AllanReferenceTest {
  private static final double[] READINGS =
      Arrays.stream(ReferenceFile.of("riley-1000").column("n")).map(n -> n / 2147483647).toArray();

  @ParameterizedTest
  @ValueSource(ints = {1, 10, 100})
  void everyPrintedDigitAgrees(int factor) {
    Point point = AllanDeviation.overlapping(List.of(READINGS), new int[] {factor}).get(0);
    String printed = ReferenceFile.certified("riley-1000").printed("oadev_tau" + factor);
    assertThat(String.format(Locale.ROOT, "%.6e", point.deviation())).isEqualTo(printed);
    assertThat(point.terms()).isEqualTo(1000 + 1 - 2 * factor);
  }

  @Test
  void theLevelOfTheReadingsDoesNotMatter() {
    double[] lifted = Arrays.stream(READINGS).map(y -> y + 1000).toArray();
    for (int factor : new int[] {1, 10, 100}) {
      double plain = deviation(List.of(READINGS), factor);
      assertThat(deviation(List.of(lifted), factor) / plain - 1).isBetween(-1e-10, 1e-10);
    }
  }

  @Test
  void aGapAddsThePiecesSumsOfSquares() {
    double[] first = Arrays.copyOfRange(READINGS, 0, 400);
    double[] second = Arrays.copyOfRange(READINGS, 410, 1000);
    double a = AllanDeviation.overlapping(List.of(first), new int[] {10}).get(0).deviation();
    double b = AllanDeviation.overlapping(List.of(second), new int[] {10}).get(0).deviation();
    Point both = AllanDeviation.overlapping(List.of(first, second), new int[] {10}).get(0);
    double expected = Math.sqrt((a * a * 381 + b * b * 571) / (381 + 571));
    assertThat(both.terms()).isEqualTo(381 + 571);
    assertThat(both.deviation() / expected - 1).isBetween(-1e-12, 1e-12);
  }

  @Test
  void piecesThatAreTooShortSayNothing() {
    List<double[]> pieces = List.of(new double[] {1, 2, 3}, new double[0]);
    assertThat(AllanDeviation.overlapping(pieces, new int[] {1, 2})).hasSize(1);
    assertThat(AllanDeviation.octaves(List.of())).isEmpty();
    assertThat(AllanDeviation.octaves(List.of(new double[100]))).containsExactly(1, 2, 4, 8, 16);
    assertThatThrownBy(() -> AllanDeviation.overlapping(pieces, new int[] {0}))
        .hasMessage("averaging factor 0 must be at least 1");
  }

  private static double deviation(List<double[]> pieces, int factor) {
    return AllanDeviation.overlapping(pieces, new int[] {factor}).get(0).deviation();
  }
}
