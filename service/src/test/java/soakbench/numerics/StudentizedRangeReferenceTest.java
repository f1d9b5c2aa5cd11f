package soakbench.numerics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import org.hipparchus.distribution.continuous.TDistribution;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.ReferenceFile;

/** Tukey's q against a textbook's table B.5 after Harter 1960, and against Student's t. */
class StudentizedRangeReferenceTest {

  @Test
  void quantilesAreThoseOfTheTable() {
    ReferenceFile table = ReferenceFile.of("table-studentized-range");
    assertThat(table.size()).isEqualTo(34);
    for (int i = 0; i < table.size(); i++) {
      int means = (int) table.column("k")[i];
      double df = table.column("df")[i];
      double p = table.column("p")[i];
      assertThat(new StudentizedRange(means, df).inverseCumulativeProbability(p))
          .as("q(%s) of %s means, %s degrees of freedom", p, means, df)
          .isEqualTo(table.column("q")[i], within(1.002 * table.roundingOf("q", i)));
    }
  }

  /**
   * ptukey(c(1, 2.5, 3.7, 5, 8), 4, 17.3, lower.tail = FALSE) and its like, R 4.2.2 (2022-11-10).
   */
  @Test
  void probabilitiesAreThoseOfR() {
    double[] q = {1, 2.5, 3.7, 5, 8};
    double[] four = {
      0.892911852340744, 0.321274440454249, 0.076607551500643, 0.012046233418778, 0.000143099413445
    };
    double[] eight = {
      0.9934719556982, 0.6563288827383, 0.2919279551882, 0.1049616162599, 0.0117107273639
    };
    for (int i = 0; i < q.length; i++) {
      assertThat(1 - new StudentizedRange(4, 17.3).cumulativeProbability(q[i]))
          .isEqualTo(four[i], within(1e-8));
      assertThat(1 - new StudentizedRange(8, 6.5).cumulativeProbability(q[i]))
          .isEqualTo(eight[i], within(1e-8));
    }
    assertThat(new StudentizedRange(3, 7.7).inverseCumulativeProbability(0.99))
        .as("qtukey(.99, 3, 7.7)")
        .isEqualTo(5.71083955812, within(1e-7));
  }

  /** Two means differ by t times the root of 2: exact, and so for degrees that are not whole. */
  @ParameterizedTest
  @ValueSource(doubles = {1, 1.5, 2, 3, 5, 7.3, 10, 30, 120, 1000, 100_000})
  void twoMeansFollowStudentsT(double df) {
    StudentizedRange two = new StudentizedRange(2, df);
    TDistribution t = new TDistribution(df);
    for (double q : new double[] {0.01, 0.5, 1, 2, 3, 4, 6, 10, 40}) {
      assertThat(two.cumulativeProbability(q))
          .as("q %s", q)
          .isEqualTo(1 - 2 * t.cumulativeProbability(-q / Math.sqrt(2)), within(1e-9));
    }
    assertThat(two.inverseCumulativeProbability(0.95))
        .isEqualTo(Math.sqrt(2) * t.inverseCumulativeProbability(0.975), within(1e-6));
  }

  @Test
  void theQuantileGivesBackItsProbability() {
    StudentizedRange range = new StudentizedRange(6, 8.4);
    for (double p : new double[] {0.001, 0.05, 0.5, 0.95, 0.999, 0.99999}) {
      assertThat(range.cumulativeProbability(range.inverseCumulativeProbability(p)))
          .isEqualTo(p, within(1e-10));
    }
    assertThat(range.cumulativeProbability(0)).isZero();
    assertThat(range.cumulativeProbability(1e6)).isEqualTo(1, within(1e-9));
  }

  @Test
  void oneMeanOrLessThanOneDegreeIsRefused() {
    assertThatIllegalArgumentException().isThrownBy(() -> new StudentizedRange(1, 5));
    assertThatIllegalArgumentException().isThrownBy(() -> new StudentizedRange(2, 0.9));
    assertThatIllegalArgumentException()
        .isThrownBy(() -> new StudentizedRange(2, 5).inverseCumulativeProbability(1));
  }
}
