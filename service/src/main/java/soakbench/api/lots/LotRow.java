package soakbench.api.lots;

import java.util.List;
import java.util.function.Function;
import soakbench.api.http.Table;
import soakbench.lots.compare.LotSummary;
import soakbench.lots.compare.MetricSummary;

/**
 * A figure of a lot, as a row of a table.
 *
 * @param name of the figure
 */
public record LotRow(LotSummary lot, String name, MetricSummary metric) {
  static final Table<LotRow> TABLE =
      new Table<LotRow>()
          .cell("lot", r -> r.lot.lot())
          .cell("units", r -> r.lot.units())
          .cell("metric", LotRow::name)
          .cell("unit", LotRow.of(MetricSummary::unit))
          .cell("n", LotRow.of(MetricSummary::n))
          .cell("median", LotRow.of(MetricSummary::median))
          .cell("observed_sd", LotRow.of(MetricSummary::observedSd))
          .cell("error_sd", LotRow.of(MetricSummary::errorSd))
          .estimateCells("sd", LotRow.of(MetricSummary::sd))
          .cell("tolerance_low", LotRow.of(m -> m.tolerance().low()))
          .cell("tolerance_high", LotRow.of(m -> m.tolerance().high()))
          .cell("limit_low", LotRow.outside(MetricSummary.Outside::limitLow))
          .cell("limit_high", LotRow.outside(MetricSummary.Outside::limitHigh))
          .cell("outside", LotRow.outside(MetricSummary.Outside::count))
          .estimateCells("share_outside", LotRow.outside(MetricSummary.Outside::share))
          .estimateCells("cpk", LotRow.of(MetricSummary::cpk))
          .cell(
              "greatest_tracker",
              r -> r.metric.greatest() == null ? null : r.metric.greatest().tracker())
          .cell("greatest", r -> r.metric.greatest() == null ? null : r.metric.greatest().value());

  /** A row for each figure of each lot. */
  static List<LotRow> of(List<LotSummary> lots) {
    return lots.stream()
        .flatMap(
            lot ->
                lot.metrics().entrySet().stream()
                    .map(e -> new LotRow(lot, e.getKey(), e.getValue())))
        .toList();
  }

  private static <T> Function<LotRow, T> of(Function<MetricSummary, T> part) {
    return row -> part.apply(row.metric);
  }

  private static <T> Function<LotRow, T> outside(Function<MetricSummary.Outside, T> part) {
    return row -> row.metric.outside() == null ? null : part.apply(row.metric.outside());
  }
}
