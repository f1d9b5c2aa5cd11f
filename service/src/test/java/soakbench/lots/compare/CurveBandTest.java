package soakbench.lots.compare;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;

class CurveBandTest {
  @Test
  void theReasonCountsTheUnitsWhereMostOfThemWereMeasured() {
    List<Double> one = Arrays.asList(null, 0.01, 0.02, null);
    List<Double> other = Arrays.asList(null, null, 0.03, null);
    CurveBand band = CurveBand.of(List.of(one, other), 4);
    assertThat(band.reason()).isEqualTo("needs 6 units; there are 2");
    assertThat(band.lowDps()).containsOnlyNulls();
  }
}
