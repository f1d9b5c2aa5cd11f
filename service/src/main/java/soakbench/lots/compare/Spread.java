package soakbench.lots.compare;

import java.util.Map;
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
}
