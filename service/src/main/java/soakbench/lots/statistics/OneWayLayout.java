package soakbench.lots.statistics;

import java.util.Arrays;
import org.hipparchus.distribution.continuous.FDistribution;
import org.hipparchus.stat.StatUtils;

/**
 * One-way analysis of variance (R. A. Fisher; NIST/SEMATECH e-Handbook of Statistical Methods,
 * 7.4.3.3). Squares are of differences from means, never differences of squares, so figures that
 * share their leading digits keep their precision.
 *
 * @param betweenDf groups less one
 * @param withinDf figures less groups
 * @param betweenSquares sum of squares of the groups' means about the grand mean, one for each
 *     figure
 * @param withinSquares sum of squares of the figures about their group's mean, above 0
 */
public record OneWayLayout(
    int betweenDf, int withinDf, double betweenSquares, double withinSquares) {

  /**
   * Analyses the figures of groups, each group an array in any order, no NaN.
   *
   * @throws IllegalArgumentException if there are fewer than two groups, a group is empty, or no
   *     group has two figures that differ
   */
  public static OneWayLayout of(double[][] groups) {
    check(groups);
    double[] all = Arrays.stream(groups).flatMapToDouble(Arrays::stream).toArray();
    double grand = StatUtils.mean(all);
    double between = 0;
    double within = 0;
    for (double[] group : groups) {
      double[] off = Arrays.stream(group).map(v -> v - grand).toArray();
      double mean = StatUtils.mean(off);
      between += group.length * mean * mean;
      within += StatUtils.variance(off, mean) * (group.length - 1);
    }
    return new OneWayLayout(groups.length - 1, all.length - groups.length, between, within);
  }

  /**
   * The ratio F alone, unchecked; endless where only the groups differ, 0 where nothing does.
   *
   * @param groups two or more, none empty, no NaN
   */
  public static double ratio(double[][] groups) {
    double sum = 0;
    int count = 0;
    for (double[] group : groups) {
      for (double v : group) {
        sum += v;
        count++;
      }
    }
    double grand = sum / count;
    double between = 0;
    for (double[] group : groups) {
      double off = StatUtils.mean(group) - grand;
      between += group.length * off * off;
    }
    double within = withinSquares(groups);
    double ratio = between / (groups.length - 1) / (within / (count - groups.length));
    return Double.isNaN(ratio) ? 0 : ratio;
  }

  /** Sum of squares of the figures about their group's mean, unchecked; 0 where each is alike. */
  public static double withinSquares(double[][] groups) {
    double within = 0;
    for (double[] group : groups) {
      Moments m = Moments.of(group);
      within += m.variance() * (m.count() - 1);
    }
    return within;
  }

  private static void check(double[][] groups) {
    if (groups.length < 2) {
      throw new IllegalArgumentException(groups.length + " groups; a comparison takes 2 or more");
    }
    boolean scatter = false;
    for (double[] group : groups) {
      if (group.length == 0) {
        throw new IllegalArgumentException("a group without figures can't be compared");
      }
      scatter |= StatUtils.min(group) < StatUtils.max(group);
    }
    if (!scatter) {
      throw new IllegalArgumentException(
          "the figures of each group are all alike, so nothing says how far groups may differ");
    }
  }

  double betweenMeanSquare() {
    return betweenSquares / betweenDf;
  }

  double withinMeanSquare() {
    return withinSquares / withinDf;
  }

  /** Ratio of the mean squares, between over within. */
  public double f() {
    return betweenMeanSquare() / withinMeanSquare();
  }

  /** How often so great a ratio or a greater one comes by chance among groups that are alike. */
  public double p() {
    // The reciprocal's lower tail, since 1 less a probability near 1 loses all digits of a small p.
    return new FDistribution(withinDf, betweenDf).cumulativeProbability(1 / f());
  }
}
