package soakbench.lots.compare;

import java.util.Arrays;
import org.hipparchus.stat.StatUtils;
import soakbench.lots.statistics.Capability;
import soakbench.lots.statistics.OwnSpread;
import soakbench.lots.statistics.ShareOutside;
import soakbench.model.Estimate;

/**
 * One figure of a lot.
 *
 * @param unit of the figure
 * @param n units of which it is known
 * @param missing why the first of the others has none; null where all have one
 * @param median of the units; null without any
 * @param observedSd standard deviation as measured; null of fewer than two
 * @param errorSd what of it measuring adds, root mean square of the standard errors; null where one
 *     is not known
 * @param sd standard deviation of the units themselves
 * @param tolerance what share of all units of the lot lies within
 * @param outside how many lie outside of the limits; null where none are set
 * @param cpk room that the limits leave
 * @param greatest the unit farthest from zero; null without any
 */
public record MetricSummary(
    String unit,
    int n,
    String missing,
    Double median,
    Double observedSd,
    Double errorSd,
    Estimate sd,
    Tolerance tolerance,
    Outside outside,
    Estimate cpk,
    Greatest greatest) {

  /**
   * How many units lie outside of the limits.
   *
   * @param limitLow lower limit, null for none
   * @param limitHigh upper limit, null for none
   * @param count of those measured
   * @param share of all units of the lot, 0 to 1, with exact limits
   */
  public record Outside(Double limitLow, Double limitHigh, int count, Estimate share) {}

  /** The unit whose figure lies farthest from zero. */
  public record Greatest(String tracker, double value) {}

  /**
   * Sums up one figure of a lot.
   *
   * @param limit what a unit may have; null where nothing is set
   */
  static MetricSummary of(Metric metric, Lot lot, MetricLimit limit) {
    Values values = Values.of(metric, lot);
    if (values.count() == 0) {
      return none(metric, values.missing());
    }
    double[] figures = values.figures();
    OwnSpread spread = OwnSpread.of(figures, values.errors());
    return new MetricSummary(
        metric.unit(),
        figures.length,
        values.missing(),
        StatUtils.percentile(figures, 50),
        spread.observed(),
        spread.error(),
        spread.own(),
        Tolerance.of(metric.kind(), figures),
        limit == null ? null : outside(figures, limit),
        cpk(metric, figures, limit),
        greatest(values));
  }

  private static MetricSummary none(Metric metric, String reason) {
    String why = reason == null ? "the lot has no unit with figures" : reason;
    Estimate unknown = Estimate.unknown(why);
    return new MetricSummary(
        metric.unit(),
        0,
        why,
        null,
        null,
        null,
        unknown,
        Tolerance.unknown(why),
        null,
        unknown,
        null);
  }

  private static Outside outside(double[] figures, MetricLimit limit) {
    int count = (int) Arrays.stream(figures).filter(limit::isOutside).count();
    return new Outside(limit.low(), limit.high(), count, ShareOutside.of(count, figures.length));
  }

  private static Estimate cpk(Metric metric, double[] figures, MetricLimit limit) {
    if (limit == null) {
      return Estimate.unknown("no limit is set");
    }
    if (!metric.kind().normal()) {
      return Estimate.unknown("a magnitude is not normally distributed; see the share outside");
    }
    return Capability.cpk(
        figures,
        limit.low() == null ? Double.NEGATIVE_INFINITY : limit.low(),
        limit.high() == null ? Double.POSITIVE_INFINITY : limit.high());
  }

  private static Greatest greatest(Values values) {
    int at = 0;
    double[] magnitudes = values.magnitudes();
    for (int i = 1; i < magnitudes.length; i++) {
      at = magnitudes[i] > magnitudes[at] ? i : at;
    }
    return new Greatest(values.units().get(at).tracker(), values.figures()[at]);
  }
}
