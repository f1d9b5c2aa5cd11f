package soakbench.numerics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import org.junit.jupiter.api.Test;

class RegressionDesignTest {
  private static final double FREE = Double.POSITIVE_INFINITY;
  private static final double[][] ROWS = {{1, 0}, {1, 1}, {1, 2}};
  private static final double[] MID = {15, 45, 75};
  private static final double[] WIDTH = {30, 30, 20};

  @Test
  void onlyUnknownsWithoutAPriorTakeUpBlocks() {
    double[] prior = {FREE, 0.2};
    RegressionDesign design = new RegressionDesign(ROWS, prior, MID, WIDTH);
    assertThat(design.rows()).isEqualTo(3);
    assertThat(design.unknowns()).isEqualTo(2);
    assertThat(design.degreesOfFreedom()).isEqualTo(2);
    double[] free = {FREE, FREE};
    assertThat(new RegressionDesign(ROWS, free, MID, WIDTH).degreesOfFreedom()).isEqualTo(1);
  }

  @Test
  void aPartOfTheBlocksKeepsTheirPlacesInTime() {
    double[] prior = {FREE, FREE};
    RegressionDesign part =
        new RegressionDesign(ROWS, prior, MID, WIDTH).only(new boolean[] {true, false, true});
    assertThat(part.columns()).isDeepEqualTo(new double[][] {{1, 0}, {1, 2}});
    assertThat(part.midS()).containsExactly(15, 75);
    assertThat(part.widthS()).containsExactly(30, 20);
  }

  @Test
  void lengthsThatDoNotFitAreRefusedByName() {
    double[] prior = {FREE, FREE};
    assertThatIllegalArgumentException()
        .isThrownBy(() -> new RegressionDesign(ROWS, prior, new double[2], WIDTH))
        .withMessage("3 rows for 2 middles and 3 widths");
    assertThatIllegalArgumentException()
        .isThrownBy(() -> new RegressionDesign(ROWS, new double[3], MID, WIDTH))
        .withMessage("a row of 2 entries for 3 unknowns");
  }
}
