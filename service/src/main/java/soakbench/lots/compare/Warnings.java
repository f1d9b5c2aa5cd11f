package soakbench.lots.compare;

import java.util.ArrayList;
import java.util.DoubleSummaryStatistics;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import org.hipparchus.stat.StatUtils;

/** What to know when lots are compared by a figure that depends on how it was measured. */
final class Warnings {
  /** Noise of streams whose rates differ by a greater part is not that of one stream. */
  private static final double SAME_RATE = 0.1;

  /** Coefficients of temperatures further apart are not those of one temperature. */
  private static final double SAME_TEMPERATURE_C = 0.5;

  private Warnings() {}

  static List<String> of(Metric metric, List<Lot> lots) {
    List<String> warnings = new ArrayList<>();
    if (Metrics.ofNoise(metric)) {
      rates(lots, warnings);
    }
    if (Metrics.atTemperature(metric)) {
      temperatures(metric, lots, warnings);
    }
    return warnings;
  }

  private static void rates(List<Lot> lots, List<String> warnings) {
    List<String> each = new ArrayList<>();
    DoubleSummaryStatistics all = new DoubleSummaryStatistics();
    for (Lot lot : lots) {
      double[] rates =
          lot.units().stream()
              .map(u -> u.figures().sampleRateHz())
              .filter(Objects::nonNull)
              .mapToDouble(r -> r)
              .toArray();
      if (rates.length > 0) {
        double median = StatUtils.percentile(rates, 50);
        all.accept(median);
        each.add(String.format(Locale.ROOT, "%s %.1f Hz", lot.name(), median));
      }
    }
    if (all.getCount() > 1 && all.getMax() > all.getMin() * (1 + SAME_RATE)) {
      warnings.add(
          "the lots' streams have different sample rates ("
              + Counts.and(each)
              + "): noise is that of the printed stream, so the rate may make part of a"
              + " difference");
    }
  }

  private static void temperatures(Metric metric, List<Lot> lots, List<String> warnings) {
    DoubleSummaryStatistics at = new DoubleSummaryStatistics();
    int extrapolated = 0;
    for (Lot lot : lots) {
      for (LotUnit unit : Values.of(metric, lot).units()) {
        if (unit.figures().operatingC() != null) {
          at.accept(unit.figures().operatingC());
        }
        extrapolated += unit.figures().extrapolated() ? 1 : 0;
      }
    }
    if (at.getCount() > 0 && at.getMax() - at.getMin() > SAME_TEMPERATURE_C) {
      warnings.add(
          String.format(
              Locale.ROOT,
              "each unit's figure is at its own temperature, %.1f to %.1f degC; ask with at_c for"
                  + " one temperature",
              at.getMin(),
              at.getMax()));
    }
    if (extrapolated > 0) {
      warnings.add(
          "of "
              + Counts.units(extrapolated)
              + " no soak covered that temperature: the figure is extrapolated");
    }
  }
}
