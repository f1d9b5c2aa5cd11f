package soakbench.numerics;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.SplittableRandom;
import org.assertj.core.data.Percentage;
import org.junit.jupiter.api.Test;

class BasisTest {
  private static final int ROWS = 50;

  private final double[] level = new double[ROWS];
  private final double[] quick = new double[ROWS];
  private final double[] slow = new double[ROWS];
  private final double[] y = new double[ROWS];

  BasisTest() {
    SplittableRandom random = new SplittableRandom(3);
    for (int i = 0; i < ROWS; i++) {
      level[i] = 1;
      quick[i] = Math.exp(-i / 5.0);
      slow[i] = Math.exp(-i / 40.0);
      y[i] = 32 - 8 * slow[i] + 0.01 * random.nextGaussian();
    }
  }

  @Test
  void whatOneMoreColumnLeavesIsWhatAFitOfAllLeaves() {
    Basis basis = Basis.of(y).with(level).with(quick);
    double[][] design = new double[ROWS][];
    for (int i = 0; i < ROWS; i++) {
      design[i] = new double[] {level[i], quick[i], slow[i]};
    }
    double rss = LinearFit.of(design, y).rss();
    assertThat(basis.rssWith(slow)).isCloseTo(rss, Percentage.withPercentage(1e-7));
    assertThat(basis.rssWith(slow)).as("tried again").isEqualTo(basis.rssWith(slow));
  }

  @Test
  void aColumnThatDependsOnTheOthersFitsNothing() {
    double[] both = new double[ROWS];
    for (int i = 0; i < ROWS; i++) {
      both[i] = 3 * level[i] - quick[i];
    }
    Basis basis = Basis.of(y).with(level).with(quick);
    assertThat(basis.rssWith(both)).isInfinite();
    assertThat(basis.with(both).rssWith(slow)).isInfinite();
  }
}
