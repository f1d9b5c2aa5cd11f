package soakbench.api.lots;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import soakbench.api.http.Table;
import soakbench.lots.compare.LotSummary;
import soakbench.lots.compare.LotUnit;
import soakbench.lots.compare.Metric;
import soakbench.lots.compare.Metrics;
import soakbench.lots.compare.Screening;
import soakbench.model.Estimate;

/** Lots and their units as they are answered; lots as CSV are {@link LotRow}s. */
final class LotTables {
  private LotTables() {}

  /** A unit of a lot. */
  record Unit(LotUnit unit, Screening screening) {
    Map<String, Estimate> values() {
      Map<String, Estimate> values = new LinkedHashMap<>();
      for (Metric metric : Metrics.byName().values()) {
        values.put(metric.name(), metric.of().apply(unit));
      }
      return values;
    }
  }

  /**
   * A lot with a page of its units.
   *
   * @param untested why nobody was tested for not fitting the lot; null where all were
   * @param next address of the next page; null of the last
   */
  record One(LotSummary lot, List<Unit> page, String untested, String next) {}

  /** What a verdict is called. */
  static final Table<Screening> SCREENING =
      new Table<Screening>()
          .member("verdict", s -> s.verdict().words())
          .member("reason", Screening::reason);

  /** A lot as JSON. */
  static final Table<LotSummary> LOT =
      lot(
          new Table<LotSummary>()
              .member("lot", LotSummary::lot)
              .member("unit_count", LotSummary::units),
          l -> l);

  private static <T> Table<T> lot(Table<T> table, Function<T, LotSummary> lot) {
    return table
        .member("listed", t -> lot.apply(t).listed())
        .member("soaks", t -> lot.apply(t).soaks())
        .member("first", t -> lot.apply(t).first())
        .member("last", t -> lot.apply(t).last())
        .member("racks", t -> lot.apply(t).racks())
        .member("metrics", t -> lot.apply(t).metrics())
        .member("verdicts", t -> lot.apply(t).verdicts());
  }

  /** Units of a lot: as JSON with a member for each figure, as CSV with four columns. */
  static final Table<Unit> UNITS = units();

  /** One lot as JSON, with a page of its units. */
  static final Table<One> ONE =
      lot(
          new Table<One>()
              .member("lot", o -> o.lot.lot())
              .member("unit_count", o -> o.lot.units())
              .member("units", o -> UNITS.json(o.page))
              .member("misfits_reason", One::untested)
              .member("next", One::next),
          One::lot);

  private static Table<Unit> units() {
    Table<Unit> table =
        new Table<Unit>()
            .column("tracker", u -> u.unit.tracker())
            .column("name", u -> u.unit.listed().name())
            .column("rack", u -> u.unit.listed().rack())
            .column("day", u -> u.unit.day())
            .column("soaks", u -> u.unit.figures().soaks().count())
            .cell("verdict", u -> u.screening.verdict().words())
            .cell("reason", u -> u.screening.reason())
            .member("values", Unit::values)
            .member("screening", Unit::screening, SCREENING);
    Metrics.byName()
        .forEach((name, metric) -> table.estimateCells(name, u -> metric.of().apply(u.unit)));
    return table;
  }
}
