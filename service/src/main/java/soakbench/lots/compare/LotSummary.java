package soakbench.lots.compare;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeSet;

/**
 * A lot.
 *
 * @param lot its name
 * @param units that have figures
 * @param listed trackers that the roster puts into it
 * @param soaks of them together
 * @param first day on which a soak of one began that counts, as 2026-03-01; null without any
 * @param last the newest such day
 * @param racks on which they lie
 * @param metrics what each figure comes to
 * @param verdicts how many units are accepted
 */
public record LotSummary(
    String lot,
    int units,
    int listed,
    int soaks,
    String first,
    String last,
    List<String> racks,
    Map<String, MetricSummary> metrics,
    Screening.Summary verdicts) {

  /** Sums a lot up. */
  public static LotSummary of(Lot lot, LotLimits limits) {
    Map<String, MetricSummary> metrics = new LinkedHashMap<>();
    Metrics.byName()
        .forEach((name, m) -> metrics.put(name, MetricSummary.of(m, lot, limits.of(m))));
    TreeSet<String> days = new TreeSet<>();
    TreeSet<String> racks = new TreeSet<>();
    int soaks = 0;
    for (LotUnit unit : lot.units()) {
      if (unit.days() != null) {
        days.addAll(List.of(unit.days().first(), unit.days().last()));
      }
      racks.add(unit.listed().rack());
      soaks += unit.figures().soaks().count();
    }
    racks.remove("");
    return new LotSummary(
        lot.name(),
        lot.units().size(),
        lot.listed(),
        soaks,
        days.isEmpty() ? null : days.first(),
        days.isEmpty() ? null : days.last(),
        List.copyOf(racks),
        metrics,
        Screening.Summary.of(Screening.of(lot, limits).values()));
  }
}
