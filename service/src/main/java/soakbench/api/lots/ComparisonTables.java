package soakbench.api.lots;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import soakbench.api.http.Table;
import soakbench.lots.compare.Comparison;
import soakbench.lots.compare.Lot;
import soakbench.lots.compare.LotUnit;
import soakbench.lots.compare.Metric;
import soakbench.lots.compare.MetricSummary;
import soakbench.lots.compare.Pair;
import soakbench.lots.compare.Screening;
import soakbench.model.Estimate;

/** A comparison as it is answered: as JSON whole, as CSV a row for each pair. */
final class ComparisonTables {
  private final List<Lot> lots;
  private final Double atC;

  /**
   * @param lots that were compared
   * @param atC temperature asked for, degC; null for each unit's own
   */
  ComparisonTables(List<Lot> lots, Double atC) {
    this.lots = lots;
    this.atC = atC;
  }

  /** A unit with its figure. */
  private record Dot(LotUnit unit, Estimate value, Screening screening) {}

  private static final Table<Dot> DOTS =
      new Table<Dot>()
          .member("tracker", d -> d.unit.tracker())
          .member("name", d -> d.unit.listed().name())
          .member("soaks", d -> d.unit.figures().soaks().count())
          .member("value", Dot::value)
          .member("screening", Dot::screening, LotTables.SCREENING);

  /** A lot with what its figure comes to and all its units. */
  private record InLot(Lot lot, MetricSummary summary, List<Dot> dots) {}

  private static final Table<InLot> LOTS =
      new Table<InLot>()
          .member("lot", l -> l.lot.name())
          .member("n", l -> l.summary.n())
          .member("missing", l -> l.summary.missing())
          .member("median", l -> l.summary.median())
          .member("observed_sd", l -> l.summary.observedSd())
          .member("error_sd", l -> l.summary.errorSd())
          .member("sd", l -> l.summary.sd())
          .member("tolerance", l -> l.summary.tolerance())
          .member("outside", l -> l.summary.outside())
          .member("cpk", l -> l.summary.cpk())
          .member("greatest", l -> l.summary.greatest())
          .member("units", l -> DOTS.json(l.dots));

  Table<Comparison> whole() {
    return new Table<Comparison>()
        .member("metric", c -> c.metric().name())
        .member("unit", c -> c.metric().unit())
        .member("at_c", c -> atC)
        .member("lots", c -> LOTS.json(inLots(c)))
        .member("level", Comparison::level)
        .member("spread", Comparison::spread)
        .member("pairs", Comparison::pairs)
        .member("differ_most", Comparison::differMost)
        .member("family", Comparison::family)
        .member("blocks", Comparison::blocks)
        .member("detectable", ComparisonTables::detectable)
        .member("units_needed", ComparisonTables::needed)
        .member("warnings", Comparison::warnings)
        .member("words", c -> c.words().headline())
        .member("finding", c -> c.words().finding())
        .member("confounded", c -> c.words().confounded())
        .member("advice", c -> c.words().advice());
  }

  private List<InLot> inLots(Comparison c) {
    List<InLot> all = new ArrayList<>();
    for (Lot lot : lots) {
      Map<String, Screening> screened = c.screened().get(lot.name());
      List<Dot> dots =
          lot.units().stream()
              .map(u -> new Dot(u, c.metric().of().apply(u), screened.get(u.tracker())))
              .toList();
      all.add(new InLot(lot, c.lots().get(lot.name()), dots));
    }
    return all;
  }

  private static Map<String, Object> detectable(Comparison c) {
    Map<String, Object> seen = new LinkedHashMap<>();
    seen.put("difference", c.detectable().difference());
    seen.put("ratio", c.detectable().ratio());
    seen.put("power", c.detectable().power());
    seen.put("reason", c.detectable().reason());
    return seen;
  }

  private static Map<String, Object> needed(Comparison c) {
    Map<String, Object> needed = new LinkedHashMap<>();
    needed.put("difference", c.detectable().wantedDifference());
    needed.put("each", c.detectable().eachForDifference());
    needed.put("ratio", c.detectable().wantedRatio());
    needed.put("each_for_ratio", c.detectable().eachForRatio());
    return needed;
  }

  Table<Pair> pairs(Comparison c) {
    Metric metric = c.metric();
    return new Table<Pair>()
        .cell("metric", p -> metric.name())
        .cell("unit", p -> metric.unit())
        .cell("at_c", p -> atC)
        .cell("a", Pair::a)
        .cell("n_a", p -> c.lots().get(p.a()).n())
        .cell("b", Pair::b)
        .cell("n_b", p -> c.lots().get(p.b()).n())
        .estimateCells("difference", Pair::difference)
        .estimateCells("ratio", Pair::ratio)
        .cell("p", Pair::p)
        .cell("p_alone", Pair::pAlone)
        .cell("adjusted_p", Pair::adjustedP)
        .cell("words", p -> c.words().headline());
  }
}
