package soakbench.lots.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import org.junit.jupiter.api.Test;
import soakbench.ReferenceFile;
import soakbench.ReferenceFile.Certified;

/** Rosner's 54 figures, NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.17.3. */
class ExtremeDeviatesReferenceTest {
  private final double[] y = ReferenceFile.of("handbook-esd-rosner").column("y");
  private final Certified published = ReferenceFile.certified("handbook-esd-rosner");
  private final ExtremeDeviates found = ExtremeDeviates.of(y, 0.05, 10);

  /** One half of the last printed digit, and a sliver for a value between two printed ones. */
  @Test
  void allDeviatesAndLimitsAreThePrintedOnes() {
    assertThat(found.steps()).hasSize(10);
    for (int i = 1; i <= 10; i++) {
      ExtremeDeviates.Step step = found.steps().get(i - 1);
      assertThat(step.deviate()).isEqualTo(published.value("R_" + i), within(5.01e-7));
      assertThat(step.limit()).isEqualTo(published.value("lambda_" + i), within(5.01e-7));
    }
  }

  @Test
  void threeUnitsAreNamedThoughTheFirstAloneWouldPass() {
    assertThat(found.count()).isEqualTo((int) published.value("number_of_outliers"));
    assertThat(found.outliers()).extracting(i -> y[i]).containsExactly(6.01, 5.42, 5.34);
    assertThat(ExtremeDeviates.of(y, 0.05, 1).outliers()).isEmpty();
  }

  @Test
  void unitsThatAreAllAlikeButOneEndTheSearchAfterIt() {
    double[] figures = new double[30];
    Arrays.fill(figures, 0.1);
    figures[17] = 0.2;
    ExtremeDeviates one = ExtremeDeviates.of(figures, 0.05, 5);
    assertThat(one.outliers()).containsExactly(17);
    assertThat(one.steps()).hasSize(1);
  }

  @Test
  void aSearchThatLeavesFewerThanTwoIsRefused() {
    double[] five = {1, 2, 3, 4, 9};
    assertThat(ExtremeDeviates.of(five, 0.05, 3).steps()).hasSize(3);
    assertThatIllegalArgumentException()
        .isThrownBy(() -> ExtremeDeviates.of(five, 0.05, 4))
        .withMessageContaining("1 to 3");
    assertThatIllegalArgumentException().isThrownBy(() -> ExtremeDeviates.of(five, 0, 1));
  }
}
