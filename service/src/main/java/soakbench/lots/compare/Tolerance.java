package soakbench.lots.compare;

import java.util.Arrays;
import soakbench.lots.statistics.OrderLimit;
import soakbench.lots.statistics.ToleranceInterval;

/**
 * Limits that hold 95 % of all units of a lot with 95 % confidence, or the reason why there are
 * none.
 *
 * @param low lower limit, in the figure's unit
 * @param high upper limit
 * @param share of the units that they hold, 0 to 1
 * @param confidence that they do, 0 to 1
 * @param method how they were found
 * @param reason why there are none; null where there are
 */
public record Tolerance(
    Double low, Double high, Double share, Double confidence, String method, String reason) {
  private static final double SHARE = 0.95;
  private static final double CONFIDENCE = 0.95;

  /** From so many units on normal limits are narrow enough to be of use. */
  static final int LEAST = 6;

  static Tolerance unknown(String reason) {
    return new Tolerance(null, null, null, null, null, reason);
  }

  /** Two-sided normal limits; of what is no normal figure, the order statistic above. */
  static Tolerance of(Metric.Kind kind, double[] figures) {
    return kind.normal() ? normal(figures) : above(figures);
  }

  private static Tolerance normal(double[] figures) {
    if (figures.length < LEAST) {
      return unknown("needs %d units; there are %d".formatted(LEAST, figures.length));
    }
    ToleranceInterval limits = ToleranceInterval.of(figures, SHARE, CONFIDENCE);
    return new Tolerance(
        limits.low(), limits.high(), SHARE, CONFIDENCE, "two-sided, normal distribution", null);
  }

  private static Tolerance above(double[] figures) {
    int rank = OrderLimit.rank(figures.length, SHARE, CONFIDENCE);
    if (rank == 0) {
      return unknown(
          "needs %d units, without a law for magnitudes; there are %d"
              .formatted(OrderLimit.leastCount(SHARE, CONFIDENCE), figures.length));
    }
    double[] sorted = figures.clone();
    Arrays.sort(sorted);
    return new Tolerance(
        0.0, sorted[figures.length - rank], SHARE, CONFIDENCE, "one-sided, order statistic", null);
  }
}
