package soakbench.lots.compare;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import soakbench.model.Estimate;

/**
 * What a comparison comes to, in sentences without their full stop.
 *
 * @param headline the finding; where lots can't be told from how they were measured, that
 * @param finding what was seen, also where it is not shown to be the lots'
 * @param confounded by what lots can't be told apart, as day
 * @param advice what to do, and what else there is to say
 */
public record Words(String headline, String finding, List<String> confounded, List<String> advice) {
  private static final double LEVEL = 0.05;

  static Words of(
      Metric metric,
      Map<String, MetricSummary> lots,
      Level level,
      Extremes two,
      List<Block> blocks,
      Map<String, Screening> units) {
    List<String> confounded =
        blocks.stream().filter(b -> Boolean.FALSE.equals(b.shared())).map(Block::by).toList();
    String seen = seen(metric, lots, level, two);
    String outside = outside(lots);
    List<String> advice = new ArrayList<>();
    blocks.stream()
        .filter(b -> Boolean.FALSE.equals(b.shared()))
        .forEach(b -> advice.addAll(BlockWords.apart(b, List.copyOf(lots.keySet()))));
    advice.addAll(ScreeningWords.of(units));
    if (confounded.isEmpty() && differs(metric, level, two)) {
      BlockWords.together(blocks, level).ifPresent(advice::add);
    }
    boolean compared = two.ratio().known() || level.p() != null;
    return confounded.isEmpty() || !compared
        ? new Words(seen + outside, seen + outside, confounded, List.copyOf(advice))
        : new Words(
            "can't tell lot from " + Counts.and(confounded),
            "seen, but not shown to be the lots': " + seen + outside,
            confounded,
            List.copyOf(advice));
  }

  /** Whether a difference was shown: by the ratio where the figure has one, else by the level. */
  private static boolean differs(Metric metric, Level level, Extremes two) {
    if (two.pair() == null) {
      return false;
    }
    Estimate ratio = two.ratio();
    return ratio.known()
        ? ratio.low() > 1 || ratio.high() < 1
        : !metric.kind().hasRatio() && level.p() != null && level.p() < LEVEL;
  }

  private static String seen(
      Metric metric, Map<String, MetricSummary> lots, Level level, Extremes two) {
    if (two.pair() == null) {
      return alone(metric, lots);
    }
    if (two.ratio().known()) {
      return differs(metric, level, two)
          ? larger(metric, two) + means(metric, two)
          : same(metric, two);
    }
    if (metric.kind().hasRatio() || level.p() == null) {
      return "%s's and %s's %s can't be compared: %s"
          .formatted(
              two.a(),
              two.b(),
              metric.words(),
              level.p() == null ? level.reason() : two.ratio().reason());
    }
    return higher(metric, level, two);
  }

  private static String alone(Metric metric, Map<String, MetricSummary> lots) {
    MetricSummary one = lots.values().iterator().next();
    String lot = lots.keySet().iterator().next();
    return one.median() == null
        ? "%s's %s are not known: %s".formatted(lot, metric.words(), one.missing())
        : "%s's %s: median %s %s, %s"
            .formatted(
                lot,
                metric.words(),
                Counts.number(one.median()),
                metric.unit(),
                Counts.units(one.n()));
  }

  /** Always told of the larger one: nobody reads "0.48 times as large". */
  private static String larger(Metric metric, Extremes two) {
    Estimate r = two.ratio();
    boolean second = r.value() >= 1;
    return "%s's %s are %s times as large as %s's (95 %% interval %s to %s)"
        .formatted(
            second ? two.b() : two.a(),
            metric.words(),
            times(second ? r.value() : 1 / r.value()),
            second ? two.a() : two.b(),
            times(second ? r.low() : 1 / r.high()),
            times(second ? r.high() : 1 / r.low()));
  }

  private static String times(double ratio) {
    return ratio < 10 ? String.format(java.util.Locale.ROOT, "%.1f", ratio) : Counts.number(ratio);
  }

  private static String same(Metric metric, Extremes two) {
    Estimate r = two.ratio();
    return "no difference shown in size between %s's and %s's %s (ratio %s, 95 %% interval %s to %s)"
            .formatted(
                two.a(),
                two.b(),
                metric.words(),
                hundredths(r.value()),
                hundredths(r.low()),
                hundredths(r.high()))
        + means(metric, two);
  }

  private static String hundredths(double ratio) {
    return String.format(java.util.Locale.ROOT, "%.2f", ratio);
  }

  /** A difference of means beside that of sizes, where it was shown among all looked at. */
  private static String means(Metric metric, Extremes two) {
    Double p = two.pair().adjustedP();
    Estimate d = two.pair().difference();
    return metric.kind() == Metric.Kind.SIGNED && p != null && p < LEVEL
        ? "; %s's mean is %s by %s %s (%s to %s)"
            .formatted(
                two.b(),
                d.value() > 0 ? "higher" : "lower",
                Counts.number(Math.abs(d.value())),
                metric.unit(),
                Counts.number(d.value() > 0 ? d.low() : -d.high()),
                Counts.number(d.value() > 0 ? d.high() : -d.low()))
        : "";
  }

  private static String higher(Metric metric, Level level, Extremes two) {
    Estimate d = two.pair().difference();
    if (!d.known()) {
      return "%s's and %s's %s can't be compared: %s"
          .formatted(two.a(), two.b(), metric.words(), d.reason());
    }
    boolean second = d.value() >= 0;
    String interval =
        "95 %% interval %s to %s"
            .formatted(
                Counts.number(second ? d.low() : -d.high()),
                Counts.number(second ? d.high() : -d.low()));
    return level.p() < LEVEL
        ? "%s's %s are higher than %s's by %s %s (%s)"
            .formatted(
                second ? two.b() : two.a(),
                metric.words(),
                second ? two.a() : two.b(),
                Counts.number(Math.abs(d.value())),
                metric.unit(),
                interval)
        : "no difference shown between %s's and %s's %s (%s %s, %s)"
            .formatted(
                two.a(),
                two.b(),
                metric.words(),
                Counts.number(Math.abs(d.value())),
                metric.unit(),
                interval);
  }

  private static String outside(Map<String, MetricSummary> lots) {
    List<String> parts = new ArrayList<>();
    boolean limited = false;
    for (Map.Entry<String, MetricSummary> lot : lots.entrySet()) {
      MetricSummary.Outside outside = lot.getValue().outside();
      limited |= outside != null;
      if (outside != null && outside.count() > 0) {
        parts.add(Counts.units(outside.count()) + " of " + lot.getKey());
      }
    }
    if (!limited) {
      return "";
    }
    boolean one = parts.size() == 1 && parts.get(0).startsWith("one ");
    return parts.isEmpty()
        ? "; no unit is outside the limit"
        : "; " + Counts.and(parts) + (one ? " is" : " are") + " outside the limit";
  }
}
