package soakbench.lots;

import java.util.Arrays;
import org.hipparchus.stat.StatUtils;

/**
 * Whether groups spread alike: analysis of variance of the distances from each group's median (M.
 * B. Brown and A. B. Forsythe, 1974, "Robust tests for the equality of variances", J. Amer.
 * Statist. Assoc. 69, 364 to 367; NIST/SEMATECH e-Handbook 1.3.5.10). It holds for figures that are
 * far from normal.
 */
final class SpreadTest {
  private SpreadTest() {}

  /**
   * The layout of the distances, whose ratio F is the statistic W.
   *
   * @param groups figures of each group, in any order, no NaN
   * @throws IllegalArgumentException if there are fewer than two groups, one has fewer than three
   *     figures (two always lie equally far from their median), or no distances differ
   */
  static OneWayLayout of(double[][] groups) {
    return OneWayLayout.of(
        Arrays.stream(groups).map(SpreadTest::distances).toArray(double[][]::new));
  }

  private static double[] distances(double[] group) {
    if (group.length < 3) {
      throw new IllegalArgumentException(
          "a group of " + group.length + " figures has no spread to compare; it takes 3 or more");
    }
    double median = StatUtils.percentile(group, 50);
    return Arrays.stream(group).map(v -> Math.abs(v - median)).toArray();
  }
}
