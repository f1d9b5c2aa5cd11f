package soakbench.lots.compare;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import soakbench.lots.statistics.Holm;

/**
 * Lots compared by one figure.
 *
 * @param metric the figure
 * @param lots what each comes to, in the order asked for
 * @param level whether they have the same mean
 * @param spread whether they spread alike
 * @param pairs each two of them
 * @param differMost the two that differ most: those of two, of more the ones with the least and the
 *     greatest median size; what can be seen and what it comes to are about them; empty of one lot
 * @param family the figures that were looked at together, this one first
 * @param blocks how they were measured
 * @param detectable what could have been seen between the two that differ most
 * @param warnings what to know when reading it
 * @param screened every unit of each lot, by lot and id
 * @param words what it comes to
 */
public record Comparison(
    Metric metric,
    Map<String, MetricSummary> lots,
    Level level,
    Spread spread,
    List<Pair> pairs,
    List<String> differMost,
    List<Relative> family,
    List<Block> blocks,
    Detectable detectable,
    List<String> warnings,
    Map<String, Map<String, Screening>> screened,
    Words words) {

  /**
   * Another figure that was looked at together with the one asked for.
   *
   * @param metric its name
   * @param p least probability of its pairs, each alone; null without
   * @param adjustedP the same for all figures and pairs together; null without
   */
  public record Relative(String metric, Double p, Double adjustedP) {}

  /**
   * Compares lots.
   *
   * @param lots one or more, each with a name of its own
   */
  public static Comparison of(
      Metric metric, List<Lot> lots, LotLimits limits, Detectable.Wanted wanted) {
    Map<String, MetricSummary> summaries = new LinkedHashMap<>();
    lots.forEach(
        lot -> summaries.put(lot.name(), MetricSummary.of(metric, lot, limits.of(metric))));
    Map<String, double[]> figures = figures(metric, lots);
    Map<String, Sizes> sizes = Sizes.of(metric, lots);
    List<Pair> pairs = new ArrayList<>(Pair.of(figures, sizes));
    List<Relative> family = adjust(metric, lots, pairs);
    Extremes two = Extremes.of(figures, sizes, pairs);
    List<Block> blocks = Block.of(metric, lots);
    Level level = Level.of(figures);
    Map<String, Map<String, Screening>> screened = new LinkedHashMap<>();
    lots.forEach(lot -> screened.put(lot.name(), Screening.of(lot, limits)));
    return new Comparison(
        metric,
        summaries,
        level,
        Spread.of(figures, two.ratio()),
        pairs,
        two.pair() == null ? List.of() : List.of(two.a(), two.b()),
        family,
        blocks,
        two.detectable(wanted),
        Warnings.of(metric, lots),
        screened,
        Words.of(metric, summaries, level, two, blocks, named(lots, screened)));
  }

  private static Map<String, Screening> named(
      List<Lot> lots, Map<String, Map<String, Screening>> screened) {
    Map<String, Screening> named = new LinkedHashMap<>();
    for (Lot lot : lots) {
      lot.units()
          .forEach(u -> named.put(u.listed().name(), screened.get(lot.name()).get(u.tracker())));
    }
    return named;
  }

  static Map<String, double[]> figures(Metric metric, List<Lot> lots) {
    Map<String, double[]> figures = new LinkedHashMap<>();
    lots.forEach(lot -> figures.put(lot.name(), Values.of(metric, lot).figures()));
    return figures;
  }

  /** Adjusts all pairs of all figures that belong together; returns the least of each figure. */
  private static List<Relative> adjust(Metric metric, List<Lot> lots, List<Pair> pairs) {
    List<Metric> family = new ArrayList<>(List.of(metric));
    Metrics.family(metric).stream().filter(m -> m != metric).forEach(family::add);
    List<Double> all = new ArrayList<>();
    List<Integer> owner = new ArrayList<>();
    for (Pair pair : pairs) {
      add(0, pair.pAlone(), all, owner);
    }
    for (int i = 1; i < family.size(); i++) {
      for (double p : alone(figures(family.get(i), lots))) {
        add(i, p, all, owner);
      }
    }
    double[] adjusted = Holm.adjusted(all.stream().mapToDouble(p -> p).toArray());
    int next = 0;
    for (int i = 0; i < pairs.size(); i++) {
      if (pairs.get(i).pAlone() != null) {
        pairs.set(i, pairs.get(i).adjusted(adjusted[next++]));
      }
    }
    return relatives(family, all, owner, adjusted);
  }

  private static void add(int metric, Double p, List<Double> all, List<Integer> owner) {
    if (p != null) {
      all.add(p);
      owner.add(metric);
    }
  }

  private static List<Double> alone(Map<String, double[]> lots) {
    List<String> names = List.copyOf(lots.keySet());
    List<Double> alone = new ArrayList<>();
    for (int i = 0; i < names.size(); i++) {
      for (int j = i + 1; j < names.size(); j++) {
        if (Level.reason(Pair.two(names.get(i), names.get(j), lots)) == null) {
          alone.add(Level.p(lots.get(names.get(i)), lots.get(names.get(j))));
        }
      }
    }
    return alone;
  }

  private static List<Relative> relatives(
      List<Metric> family, List<Double> all, List<Integer> owner, double[] adjusted) {
    List<Relative> relatives = new ArrayList<>();
    for (int m = 0; m < family.size(); m++) {
      Double least = null;
      Double leastAdjusted = null;
      for (int i = 0; i < adjusted.length; i++) {
        if (owner.get(i) == m && (least == null || all.get(i) < least)) {
          least = all.get(i);
          leastAdjusted = adjusted[i];
        }
      }
      relatives.add(new Relative(family.get(m).name(), least, leastAdjusted));
    }
    return relatives;
  }
}
