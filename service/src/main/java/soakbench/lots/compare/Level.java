package soakbench.lots.compare;

import java.util.List;
import java.util.Map;
import org.hipparchus.stat.StatUtils;
import soakbench.lots.statistics.EffectSize;
import soakbench.lots.statistics.OneWayLayout;
import soakbench.lots.statistics.PairTest;
import soakbench.lots.statistics.PermutationTest;
import soakbench.lots.statistics.WelchTest;
import soakbench.model.Estimate;

/**
 * Whether lots have the same mean, or the reason why that can't be tested.
 *
 * @param test how it was tested
 * @param statistic of the test: F, of two lots the square of t
 * @param df its degrees of freedom, between and within; null of a permutation test
 * @param p how often chance alone makes equal lots differ as much
 * @param difference of two lots, mean of the second less mean of the first, in the figure's unit
 * @param effectSize the same in their common standard deviation (Hedges' g)
 * @param reason why there is no test; null where there is one
 */
public record Level(
    String test,
    Double statistic,
    double[] df,
    Double p,
    Estimate difference,
    Estimate effectSize,
    String reason) {
  /** From so many units of each lot on Welch's test holds its level. */
  static final int LEAST_FOR_WELCH = 6;

  /** Where no deal is rarer than this, no permutation test can find anything. */
  private static final double LEVEL = 0.05;

  private static Level untested(String reason) {
    Estimate unknown = Estimate.unknown(reason);
    return new Level(null, null, null, null, unknown, unknown, reason);
  }

  /** Tests the figures of lots, by name. */
  static Level of(Map<String, double[]> lots) {
    String reason = reason(lots);
    if (reason != null) {
      return untested(reason);
    }
    double[][] groups = lots.values().toArray(double[][]::new);
    return groups.length == 2
        ? test(groups, difference(groups), EffectSize.of(groups[0], groups[1]))
        : test(groups, ofTwo(), ofTwo());
  }

  private static Estimate difference(double[][] groups) {
    return PairTest.of(groups[0], groups[1], 2).difference();
  }

  private static Estimate ofTwo() {
    return Estimate.unknown("of two lots only; see pairs");
  }

  private static Level test(double[][] groups, Estimate difference, Estimate effect) {
    int smallest = smallest(List.of(groups));
    if (smallest >= LEAST_FOR_WELCH && allSpread(groups)) {
      WelchTest welch = WelchTest.of(groups);
      return new Level(
          "Welch",
          welch.f(),
          new double[] {welch.betweenDf(), welch.withinDf()},
          welch.p(),
          difference,
          effect,
          null);
    }
    return new Level(
        "permutation",
        statistic(groups),
        null,
        PermutationTest.p(groups, Level::statistic),
        difference,
        effect,
        null);
  }

  /** Welch's t squared of two lots, which stands their unequal spreads; the plain F of more. */
  private static double statistic(double[][] groups) {
    if (groups.length > 2) {
      return OneWayLayout.ratio(groups);
    }
    double difference = StatUtils.mean(groups[1]) - StatUtils.mean(groups[0]);
    double variance =
        StatUtils.variance(groups[0]) / groups[0].length
            + StatUtils.variance(groups[1]) / groups[1].length;
    double squared = difference * difference / variance;
    return Double.isNaN(squared) ? 0 : squared;
  }

  /** The probability of a pair alone: as in the whole, by permutation where a lot is small. */
  static double p(double[] a, double[] b) {
    double[][] groups = {a, b};
    return smallest(List.of(groups)) >= LEAST_FOR_WELCH && allSpread(groups)
        ? PairTest.of(a, b, 2).p()
        : PermutationTest.p(groups, Level::statistic);
  }

  /** Why lots can't be tested; null where they can. */
  static String reason(Map<String, double[]> lots) {
    if (lots.size() < 2) {
      return "one lot alone: there is nothing to compare it with";
    }
    for (Map.Entry<String, double[]> lot : lots.entrySet()) {
      if (lot.getValue().length < 2) {
        return "too few: of %s the figure is known of %s"
            .formatted(lot.getKey(), Counts.units(lot.getValue().length));
      }
    }
    double[][] groups = lots.values().toArray(double[][]::new);
    if (OneWayLayout.withinSquares(groups) == 0) {
      return "all units of each lot have the same value, so nothing says how far units may differ";
    }
    int[] sizes = lots.values().stream().mapToInt(g -> g.length).toArray();
    return PermutationTest.least(sizes) > LEVEL
        ? "too few: with %s no difference, however great, is seen at the 5 %% level"
            .formatted(Counts.list(sizes))
        : null;
  }

  private static int smallest(List<double[]> groups) {
    return groups.stream().mapToInt(g -> g.length).min().orElse(0);
  }

  private static boolean allSpread(double[][] groups) {
    for (double[] group : groups) {
      if (StatUtils.min(group) == StatUtils.max(group)) {
        return false;
      }
    }
    return true;
  }
}
