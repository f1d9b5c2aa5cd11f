package soakbench.lots.compare;

import java.util.Map;
import soakbench.lots.statistics.MedianRatio;
import soakbench.lots.statistics.OneWayLayout;
import soakbench.lots.statistics.SpreadTest;
import soakbench.model.Estimate;

/**
 * Whether lots spread alike, or the reason why that can't be tested.
 *
 * @param test how it was tested
 * @param statistic of the test, W
 * @param df its degrees of freedom, between and within
 * @param p how often chance alone makes lots that spread alike differ as much
 * @param ratio of two lots, median magnitude of the second by that of the first
 * @param reason why there is no test; null where there is one
 */
public record Spread(
    String test, Double statistic, int[] df, Double p, Estimate ratio, String reason) {
  private static final int LEAST = 3;

  /** Tests the figures of lots, by name. */
  static Spread of(Map<String, double[]> lots, Estimate ratio) {
    String reason = reason(lots);
    if (reason != null) {
      return new Spread(null, null, null, null, ratio, reason);
    }
    SpreadTest test = SpreadTest.of(lots.values().toArray(double[][]::new));
    return new Spread(
        "Brown-Forsythe",
        test.w(),
        new int[] {test.betweenDf(), test.withinDf()},
        test.p(),
        ratio,
        null);
  }

  private static String reason(Map<String, double[]> lots) {
    if (lots.size() < 2) {
      return "one lot alone: there is nothing to compare it with";
    }
    for (Map.Entry<String, double[]> lot : lots.entrySet()) {
      if (lot.getValue().length < LEAST) {
        return "too few: of %s the figure is known of %s"
            .formatted(lot.getKey(), Counts.units(lot.getValue().length));
      }
    }
    return OneWayLayout.withinSquares(lots.values().toArray(double[][]::new)) == 0
        ? "all units of each lot have the same value"
        : null;
  }

  /**
   * How many times as large the figures of one lot are as those of another.
   *
   * @param alpha how often the limits shall miss
   */
  static Ratio ratio(Metric metric, double[] a, double[] b, double alpha) {
    if (!metric.kind().hasRatio()) {
      return new Ratio(Estimate.unknown("a level is not so many times as large"), null);
    }
    if (a.length < LEAST || b.length < LEAST) {
      return new Ratio(
          Estimate.unknown(
              "needs %d units of each lot; there are %s"
                  .formatted(LEAST, Counts.list(a.length, b.length))),
          null);
    }
    if (medianIsZero(a) || medianIsZero(b)) {
      return new Ratio(Estimate.unknown("half of a lot's units have a figure of 0"), null);
    }
    MedianRatio found = MedianRatio.of(a, b, alpha);
    return new Ratio(found.ratio(), found);
  }

  private static boolean medianIsZero(double[] magnitudes) {
    double[] sorted = magnitudes.clone();
    java.util.Arrays.sort(sorted);
    return !(sorted[(sorted.length - 1) / 2] > 0);
  }

  /**
   * A ratio, with what its precision rests on.
   *
   * @param found null where it is not known
   */
  record Ratio(Estimate ratio, MedianRatio found) {}
}
