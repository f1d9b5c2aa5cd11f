package soakbench.numerics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.hipparchus.distribution.continuous.NormalDistribution;
import org.junit.jupiter.api.Test;

class NormalTableTest {

  @Test
  void itIsTheLibrarysDistributionBetweenItsPointsAndBeyondItsEnds() {
    NormalDistribution library = new NormalDistribution();
    for (double x = -10; x <= 10; x += 0.00317) {
      assertThat(NormalTable.below(x))
          .as("below %s", x)
          .isEqualTo(library.cumulativeProbability(x), within(1e-15));
    }
  }
}
