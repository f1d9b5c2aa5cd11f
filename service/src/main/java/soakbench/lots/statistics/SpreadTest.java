package soakbench.lots.statistics;

import java.util.Arrays;

/**
 * Whether groups spread alike: analysis of variance of the distances from each group's median (M.
 * B. Brown and A. B. Forsythe, 1974, "Robust tests for the equality of variances", J. Amer.
 * Statist. Assoc. 69, 364 to 367; NIST/SEMATECH e-Handbook 1.3.5.10). It holds for figures that are
 * far from normal.
 *
 * @param w the statistic
 * @param betweenDf groups less one
 * @param withinDf figures less groups
 * @param p how often chance alone makes groups that spread alike differ as much or more
 */
public record SpreadTest(double w, int betweenDf, int withinDf, double p) {
  /** In smaller groups the F distribution finds too little: 1.5 % in place of 5 of 7 and 7. */
  static final int LEAST_FOR_F = 25;

  /**
   * Tests the figures of groups. Where one is small, the probability comes from dealing out anew
   * how far the figures lie from their group's median (D. D. Boos and C. Brownie, 1989, "Bootstrap
   * methods for testing homogeneity of variances", Technometrics 31, 69 to 82, there with
   * replacement).
   *
   * @param groups figures of each group, in any order, no NaN
   * @throws IllegalArgumentException as {@link #layout}
   */
  public static SpreadTest of(double[][] groups) {
    OneWayLayout layout = layout(groups);
    int smallest = Arrays.stream(groups).mapToInt(g -> g.length).min().orElseThrow();
    double p =
        smallest >= LEAST_FOR_F
            ? layout.p()
            : PermutationTest.p(
                Arrays.stream(groups).map(SpreadTest::residuals).toArray(double[][]::new),
                SpreadTest::ratio);
    return new SpreadTest(layout.f(), layout.betweenDf(), layout.withinDf(), p);
  }

  /**
   * The layout of the distances, whose ratio F is the statistic W.
   *
   * @param groups figures of each group, in any order, no NaN
   * @throws IllegalArgumentException if there are fewer than two groups, one has fewer than three
   *     figures (two always lie equally far from their median), or no distances differ
   */
  static OneWayLayout layout(double[][] groups) {
    return OneWayLayout.of(
        Arrays.stream(groups).map(SpreadTest::distances).toArray(double[][]::new));
  }

  /**
   * The statistic alone, of groups dealt out a thousand times; endless where only the groups
   * differ, 0 where nothing does.
   */
  private static double ratio(double[][] groups) {
    double sum = 0;
    double squares = 0;
    double means = 0;
    int count = 0;
    for (double[] group : groups) {
      double median = median(group);
      double groupSum = 0;
      for (double v : group) {
        double distance = Math.abs(v - median);
        groupSum += distance;
        squares += distance * distance;
      }
      sum += groupSum;
      means += groupSum * groupSum / group.length;
      count += group.length;
    }
    double between = Math.max(0, means - sum * sum / count) / (groups.length - 1);
    double within = Math.max(0, squares - means) / (count - groups.length);
    return between == 0 ? 0 : between / within;
  }

  private static double median(double[] group) {
    double[] sorted = group.clone();
    Arrays.sort(sorted);
    return (sorted[(sorted.length - 1) / 2] + sorted[sorted.length / 2]) / 2;
  }

  private static double[] distances(double[] group) {
    if (group.length < 3) {
      throw new IllegalArgumentException(
          "a group of " + group.length + " figures has no spread to compare; it takes 3 or more");
    }
    double[] residuals = residuals(group);
    for (int i = 0; i < residuals.length; i++) {
      residuals[i] = Math.abs(residuals[i]);
    }
    return residuals;
  }

  private static double[] residuals(double[] group) {
    double median = median(group);
    return Arrays.stream(group).map(v -> v - median).toArray();
  }
}
