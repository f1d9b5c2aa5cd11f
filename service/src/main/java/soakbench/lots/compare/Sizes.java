package soakbench.lots.compare;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.hipparchus.stat.StatUtils;
import soakbench.lots.statistics.MedianDraws;
import soakbench.lots.statistics.MedianRatio;
import soakbench.model.Estimate;

/**
 * How large a figure is in a lot, whatever its sign.
 *
 * @param median of the magnitudes; NaN without any
 * @param draws what it might have been; null where that is not known
 * @param reason why not; null where it is
 */
record Sizes(double median, MedianDraws draws, String reason) {

  /** Of each lot, by name. */
  static Map<String, Sizes> of(Metric metric, List<Lot> lots) {
    Map<String, Sizes> sizes = new LinkedHashMap<>();
    for (Lot lot : lots) {
      double[] magnitudes = Values.of(metric, lot).magnitudes();
      sizes.put(lot.name(), of(metric, lot.name(), magnitudes, sizes.size()));
    }
    return sizes;
  }

  private static Sizes of(Metric metric, String lot, double[] magnitudes, int stream) {
    double median = magnitudes.length == 0 ? Double.NaN : StatUtils.percentile(magnitudes, 50);
    String reason = reason(metric, lot, magnitudes);
    return new Sizes(median, reason == null ? MedianDraws.of(magnitudes, stream) : null, reason);
  }

  private static String reason(Metric metric, String lot, double[] magnitudes) {
    if (!metric.kind().hasRatio()) {
      return "a level is not so many times as large";
    }
    if (magnitudes.length < MedianDraws.LEAST) {
      return "needs %d units of each lot; of %s the figure is known of %s"
          .formatted(MedianDraws.LEAST, lot, Counts.units(magnitudes.length));
    }
    return !halfAreZero(magnitudes) ? null : "half of the units of " + lot + " have a figure of 0";
  }

  private static boolean halfAreZero(double[] magnitudes) {
    int zeros = 0;
    for (double magnitude : magnitudes) {
      zeros += magnitude == 0 ? 1 : 0;
    }
    return 2 * zeros >= magnitudes.length;
  }

  /** Median of another lot by that of this one; null where it is not known. */
  MedianRatio by(Sizes other, double alpha) {
    return draws == null || other.draws == null ? null : MedianRatio.of(draws, other.draws, alpha);
  }

  /** The same as an estimate. */
  Estimate ratio(Sizes other, double alpha) {
    MedianRatio found = by(other, alpha);
    return found == null ? Estimate.unknown(reason == null ? other.reason : reason) : found.ratio();
  }
}
