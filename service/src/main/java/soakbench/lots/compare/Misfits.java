package soakbench.lots.compare;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.hipparchus.stat.StatUtils;
import soakbench.lots.statistics.ExtremeDeviates;

/**
 * Units that don't fit their lot, by the generalized extreme studentized deviate, whose limits
 * suppose a normal distribution: signed figures are tested as they are, those that are so many
 * times as large by their logarithms. What is a worst of several is none of the two; the axes that
 * it is made of are tested.
 */
final class Misfits {
  /** Of fewer units the test's limits don't hold. */
  static final int LEAST = 15;

  private static final double ALPHA = 0.05;
  private static final int MOST = 10;

  /** At most this part of a lot can stand out of it. */
  private static final int PART = 5;

  private Misfits() {}

  /** Why a lot of so many units is not tested; null where it is. */
  static String tooFew(int units) {
    return units >= LEAST
        ? null
        : "which units don't fit their lot is told from %d units on; it has %d"
            .formatted(LEAST, units);
  }

  /** By unit, why it does not fit; only those that don't. */
  static Map<String, List<String>> of(Lot lot) {
    List<Metric> tested =
        Metrics.byName().values().stream()
            .filter(m -> m.kind() != Metric.Kind.WORST && Values.of(m, lot).count() >= LEAST)
            .toList();
    Map<String, List<String>> reasons = new LinkedHashMap<>();
    for (Metric metric : tested) {
      // So that of a lot without any misfit one is named in one of twenty lots, not of twenty
      // figures.
      find(metric, Values.of(metric, lot), ALPHA / tested.size(), reasons);
    }
    return reasons;
  }

  private static void find(
      Metric metric, Values values, double alpha, Map<String, List<String>> reasons) {
    double[] figures = values.figures();
    double[] scaled = scaled(metric, figures);
    if (scaled == null || StatUtils.min(scaled) == StatUtils.max(scaled)) {
      return;
    }
    int most = Math.min(MOST, figures.length / PART);
    double median = StatUtils.percentile(figures, 50);
    for (int i : ExtremeDeviates.of(scaled, alpha, most).outliers()) {
      reasons
          .computeIfAbsent(values.units().get(i).tracker(), t -> new ArrayList<>())
          .add(reason(metric, figures[i], median));
    }
  }

  /** The figures as the test wants them; null where there is no such form. */
  private static double[] scaled(Metric metric, double[] figures) {
    if (metric.kind() != Metric.Kind.SCALE) {
      return figures;
    }
    double[] logs = new double[figures.length];
    for (int i = 0; i < logs.length; i++) {
      if (!(figures[i] > 0)) {
        return null;
      }
      logs[i] = Math.log(figures[i]);
    }
    return logs;
  }

  private static String reason(Metric metric, double value, double median) {
    return metric.kind() == Metric.Kind.SCALE
        ? "does not fit its lot: %s %s %s, %s times its median"
            .formatted(
                metric.words(), Counts.number(value), metric.unit(), Counts.number(value / median))
        : "does not fit its lot: %s %s %s, where its median is %s"
            .formatted(metric.words(), Counts.number(value), metric.unit(), Counts.number(median));
  }
}
