package soakbench.lots.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.util.stream.IntStream;
import org.assertj.core.data.Offset;
import org.hipparchus.distribution.continuous.FDistribution;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import soakbench.ReferenceFile;
import soakbench.ReferenceFile.Certified;

/**
 * One-way analysis of variance against the NIST Statistical Reference Datasets SiRstv and SmLs01,
 * and the test of spread against the NIST/SEMATECH e-Handbook 1.3.5.10, gear diameters.
 */
class OneWayReferenceTest {

  @ParameterizedTest
  @CsvSource({"nist-anova-sirstv, 5", "nist-anova-smls01, 9"})
  void theLayoutIsThePublishedOneInTwelveDigits(String set, int treatments) {
    Certified published = ReferenceFile.certified(set);
    OneWayLayout layout = OneWayLayout.of(groups(set, "treatment", treatments));
    assertThat(layout.betweenDf()).isEqualTo((int) published.value("between_df"));
    assertThat(layout.withinDf()).isEqualTo((int) published.value("within_df"));
    twelve(layout.betweenSquares(), published.value("between_ss"));
    twelve(layout.withinSquares(), published.value("within_ss"));
    twelve(layout.betweenMeanSquare(), published.value("between_ms"));
    twelve(layout.withinMeanSquare(), published.value("within_ms"));
    twelve(layout.f(), published.value("f_statistic"));
  }

  /** The handbook's own W is off from its sixth digit on; two test suites have the one in full. */
  @Test
  void theSpreadOfTheGearsIsThePublishedOne() {
    Certified published = ReferenceFile.certified("handbook-levene-gear");
    OneWayLayout spread = SpreadTest.layout(groups("handbook-levene-gear", "batch", 10));
    assertThat(spread.betweenDf()).isEqualTo((int) published.value("df1"));
    assertThat(spread.withinDf()).isEqualTo((int) published.value("df2"));
    twelve(spread.f(), published.value("W"));
    assertThat(spread.f()).isEqualTo(published.value("W_printed"), within(1e-5));
    assertThat(spread.p()).isEqualTo(published.value("p_value"), within(6e-13));
    double critical = published.value("critical_value_0.05");
    assertThat(new FDistribution(9, 90).inverseCumulativeProbability(0.95))
        .as("the printed one is cut, not rounded")
        .isBetween(critical, critical + 1e-4);
  }

  @Test
  void groupsThatNothingCanBeSaidOfAreRefused() {
    assertThatIllegalArgumentException()
        .isThrownBy(() -> OneWayLayout.of(new double[][] {{1, 2}}))
        .withMessageContaining("1 groups");
    assertThatIllegalArgumentException()
        .isThrownBy(() -> OneWayLayout.of(new double[][] {{1, 2}, {}}));
    assertThatIllegalArgumentException()
        .isThrownBy(() -> OneWayLayout.of(new double[][] {{0.1, 0.1, 0.1}, {0.3, 0.3}}))
        .withMessageContaining("alike");
    assertThatIllegalArgumentException()
        .isThrownBy(() -> SpreadTest.layout(new double[][] {{1, 2, 4}, {1, 2}}))
        .withMessageContaining("2 figures");
  }

  private static double[][] groups(String set, String key, int count) {
    ReferenceFile file = ReferenceFile.of(set);
    return IntStream.rangeClosed(1, count)
        .mapToObj(g -> file.columnWhere("y", key, g))
        .toArray(double[][]::new);
  }

  private static void twelve(double value, double published) {
    assertThat(value).isEqualTo(published, Offset.offset(1e-12 * Math.abs(published)));
  }
}
