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

  /** Beside noise, along a law of two time constants without noise, and where nothing changes. */
  @Test
  void theBestPairIsThatOfAllPairsTriedOneByOne() {
    SplittableRandom random = new SplittableRandom(8);
    double[][] columns = new double[28][ROWS];
    for (int k = 0; k < columns.length; k++) {
      for (int i = 0; i < ROWS; i++) {
        columns[k][i] = Math.exp(-i / (0.25 * Math.pow(4000, k / 27.0)));
      }
    }
    for (int trial = 0; trial < 60; trial++) {
      double[] read = new double[ROWS];
      double noise = trial % 3 == 0 ? 0 : Math.pow(10, -random.nextInt(6));
      double first = trial == 0 ? 0 : random.nextDouble() * 5;
      double quickRows = 1 + 5 * random.nextDouble();
      double slowRows = 8 + 200 * random.nextDouble();
      for (int i = 0; i < ROWS; i++) {
        double law = 32 - first * (Math.exp(-i / quickRows) + Math.exp(-i / slowRows));
        read[i] = law + noise * random.nextGaussian();
      }
      Basis basis = Basis.of(read).with(level);
      assertThat(basis.bestPair(columns)).as("trial %d", trial).isEqualTo(tried(basis, columns));
    }
  }

  private static int[] tried(Basis basis, double[][] columns) {
    int[] best = null;
    double least = Double.POSITIVE_INFINITY;
    for (int i = 0; i < columns.length; i++) {
      for (int j = i + 1; j < columns.length; j++) {
        double rss = basis.with(columns[i]).rssWith(columns[j]);
        if (rss < least) {
          least = rss;
          best = new int[] {i, j};
        }
      }
    }
    return best;
  }
}
