package soakbench.numerics;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;

class SubsetTest {
  private static final boolean[] KEPT = {true, false, false, true};

  @Test
  void whatIsKeptKeepsItsOrder() {
    assertThat(Subset.of(new double[] {5, 6, 7, 8}, KEPT)).containsExactly(5, 8);
    double[][] rows = {{1, 2}, {3, 4}, {5, 6}, {7, 8}};
    assertThat(Subset.of(rows, KEPT)).isDeepEqualTo(new double[][] {{1, 2}, {7, 8}});
  }

  @Test
  void ofNothingNothingIsKept() {
    assertThat(Subset.of(new double[0], new boolean[0])).isEmpty();
  }
}
