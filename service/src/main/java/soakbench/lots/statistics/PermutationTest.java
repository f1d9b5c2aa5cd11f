package soakbench.lots.statistics;

import java.util.Arrays;
import java.util.Iterator;
import java.util.function.ToDoubleFunction;
import org.hipparchus.random.RandomGenerator;
import org.hipparchus.random.Well19937c;
import org.hipparchus.util.CombinatoricsUtils;
import org.hipparchus.util.MathArrays;

/**
 * How often chance alone makes groups differ as much: the place of a statistic among those of the
 * same figures dealt out anew (R. A. Fisher, 1935, The Design of Experiments; E. J. G. Pitman,
 * 1937, Suppl. J. R. Statist. Soc. 4, 119 to 130). Of two groups with few deals all are gone
 * through, else some thousand are drawn, always the same.
 */
public final class PermutationTest {
  private static final int SEED = 5_071_976;

  /** More deals than this are drawn, not gone through. */
  private static final long MOST_DEALS = 20_000;

  /** With the figures' own deal 2,000: a probability of 0.05 has a standard error of 0.005. */
  private static final int MOST_DRAWS = 1_999;

  private static final int LEAST_DRAWS = 999;

  /** So many figures are dealt out at most in all, so that large groups cost no longer. */
  private static final int MOST_DEALT = 1_000_000;

  /** Deals that differ by rounding alone count as equal. */
  private static final double SAME = 1e-9;

  private PermutationTest() {}

  /**
   * The least probability that groups of these sizes can reach: whatever is measured, no smaller
   * one comes out. The statistic is taken not to know a pair of equal sizes turned round.
   */
  public static double least(int... sizes) {
    double deals = 1;
    int left = Arrays.stream(sizes).sum();
    for (int size : sizes) {
      deals *= CombinatoricsUtils.binomialCoefficientDouble(left, size);
      left -= size;
    }
    boolean same = Arrays.stream(sizes).distinct().count() == 1;
    return Math.min(1, (same ? CombinatoricsUtils.factorialDouble(sizes.length) : 1) / deals);
  }

  /**
   * The probability.
   *
   * @param groups two or more, each with one figure or more, no NaN
   * @param statistic great where the groups differ; must take groups of the same sizes, in any
   *     arrangement of the figures
   */
  public static double p(double[][] groups, ToDoubleFunction<double[][]> statistic) {
    double observed = statistic.applyAsDouble(groups);
    double[] all = Arrays.stream(groups).flatMapToDouble(Arrays::stream).toArray();
    double deals =
        groups.length == 2
            ? CombinatoricsUtils.binomialCoefficientDouble(all.length, groups[0].length)
            : Double.POSITIVE_INFINITY;
    double least = observed - SAME * Math.abs(observed);
    return deals <= MOST_DEALS
        ? exact(all, groups[0].length, statistic, least)
        : drawn(all, groups, statistic, least);
  }

  private static double exact(
      double[] all, int first, ToDoubleFunction<double[][]> statistic, double least) {
    int deals = 0;
    int asGreat = 0;
    Iterator<int[]> each = CombinatoricsUtils.combinationsIterator(all.length, first);
    while (each.hasNext()) {
      deals++;
      asGreat += statistic.applyAsDouble(dealt(all, each.next())) >= least ? 1 : 0;
    }
    return (double) asGreat / deals;
  }

  private static double[][] dealt(double[] all, int[] chosen) {
    double[] first = new double[chosen.length];
    double[] second = new double[all.length - chosen.length];
    int next = 0;
    for (int i = 0; i < all.length; i++) {
      if (next < chosen.length && chosen[next] == i) {
        first[next++] = all[i];
      } else {
        second[i - next] = all[i];
      }
    }
    return new double[][] {first, second};
  }

  private static double drawn(
      double[] all, double[][] groups, ToDoubleFunction<double[][]> statistic, double least) {
    RandomGenerator random = new Well19937c(SEED);
    int[] order = MathArrays.natural(all.length);
    double[][] deal = Arrays.stream(groups).map(double[]::clone).toArray(double[][]::new);
    int draws = Math.max(LEAST_DRAWS, Math.min(MOST_DRAWS, MOST_DEALT / all.length));
    int asGreat = 1;
    for (int draw = 0; draw < draws; draw++) {
      MathArrays.shuffle(order, random);
      int next = 0;
      for (double[] group : deal) {
        for (int i = 0; i < group.length; i++) {
          group[i] = all[order[next++]];
        }
      }
      asGreat += statistic.applyAsDouble(deal) >= least ? 1 : 0;
    }
    return (double) asGreat / (draws + 1);
  }
}
