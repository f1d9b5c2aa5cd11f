package soakbench.api.lots;

import io.javalin.http.Context;
import java.time.ZoneId;
import java.util.List;
import java.util.Map;
import java.util.function.Supplier;
import soakbench.api.http.JsonResponses;
import soakbench.api.http.NextPage;
import soakbench.api.http.QueryParameters;
import soakbench.api.http.ResponseFormat;
import soakbench.api.http.Routes;
import soakbench.api.http.TrackerFilter;
import soakbench.api.http.TrackerNames;
import soakbench.lots.compare.Comparison;
import soakbench.lots.compare.Lot;
import soakbench.lots.compare.LotLimits;
import soakbench.lots.compare.LotSummary;
import soakbench.lots.compare.Metric;
import soakbench.lots.compare.Screening;
import soakbench.model.Limits;
import soakbench.store.Database;

/** Lots, one lot's units, and the comparison of lots. */
public final class LotCalls {
  private static final int PAGE = 50;
  private static final int LONGEST_PAGE = 500;
  private static final int UNITS_PAGE = 200;
  private static final int LONGEST_UNITS_PAGE = 10_000;
  private static final String LIMIT = "limit";
  private static final List<String> KEPT_IN_NEXT =
      List.of(
          LotParameters.AT_C, LIMIT, TrackerFilter.LOT, TrackerFilter.RACK, TrackerFilter.SINCE);

  private final LotSource source;
  private final Supplier<LotLimits> limits;

  /**
   * @param limits what counts as ready, as that stands now
   */
  public LotCalls(Database database, TrackerNames names, Supplier<Limits> limits) {
    this.source = new LotSource(database, names, ZoneId.systemDefault());
    this.limits = () -> LotLimits.of(limits.get(), database.screeningLimits().all());
  }

  public void addTo(Routes routes) {
    routes
        .table(
            "/api/lots",
            this::all,
            NextPage.AFTER,
            LotParameters.AT_C,
            LIMIT,
            TrackerFilter.LOT,
            TrackerFilter.RACK,
            TrackerFilter.SINCE)
        .json("/api/lots/{lot}", this::one, LotParameters.AT_C)
        .table("/api/lots/{lot}/units", this::units, NextPage.AFTER, LotParameters.AT_C, LIMIT)
        .table(
            "/api/lot-comparison",
            this::compare,
            LotParameters.METRIC,
            LotParameters.LOTS,
            LotParameters.AT_C,
            LotParameters.DIFFERENCE,
            LotParameters.RATIO);
  }

  private void all(Context ctx, ResponseFormat form) {
    Double atC = QueryParameters.celsius(ctx, LotParameters.AT_C);
    int limit = QueryParameters.count(ctx, LIMIT, PAGE, LONGEST_PAGE);
    String after = QueryParameters.text(ctx, NextPage.AFTER);
    List<Lot> left =
        source.all(TrackerFilter.of(ctx), atC).stream()
            .filter(l -> after == null || l.name().compareTo(after) > 0)
            .toList();
    List<Lot> page = left.subList(0, Math.min(limit, left.size()));
    String next =
        left.size() > limit ? NextPage.of(ctx, page.get(limit - 1).name(), KEPT_IN_NEXT) : null;
    LotLimits now = limits.get();
    List<LotSummary> lots = page.stream().map(lot -> LotSummary.of(lot, now)).toList();
    if (form == ResponseFormat.CSV) {
      LotRow.TABLE.answer(ctx, form, "lots", LotRow.of(lots), next, Map.of());
    } else {
      LotTables.LOT.answer(ctx, form, "lots", lots, next, Map.of());
    }
  }

  private Object one(Context ctx) {
    Lot lot = source.named(ctx.pathParam("lot"), QueryParameters.celsius(ctx, LotParameters.AT_C));
    LotLimits now = limits.get();
    List<LotTables.Unit> units = screened(lot, now);
    List<LotTables.Unit> page = units.subList(0, Math.min(UNITS_PAGE, units.size()));
    String rest =
        page.size() < units.size() ? ctx.path() + "/units?" + NextPage.after(last(page)) : null;
    return LotTables.ONE.json(
        new LotTables.One(LotSummary.of(lot, now), page, Screening.untested(lot), rest));
  }

  private static List<LotTables.Unit> screened(Lot lot, LotLimits now) {
    Map<String, Screening> screened = Screening.of(lot, now);
    return lot.units().stream().map(u -> new LotTables.Unit(u, screened.get(u.tracker()))).toList();
  }

  private static String last(List<LotTables.Unit> page) {
    return page.get(page.size() - 1).unit().tracker();
  }

  /** A spreadsheet asks for a table once and follows no pages: without a limit it gets all. */
  private void units(Context ctx, ResponseFormat form) {
    Double atC = QueryParameters.celsius(ctx, LotParameters.AT_C);
    boolean sheet = form == ResponseFormat.CSV && QueryParameters.text(ctx, LIMIT) == null;
    int limit =
        sheet
            ? LONGEST_UNITS_PAGE
            : QueryParameters.count(ctx, LIMIT, UNITS_PAGE, LONGEST_UNITS_PAGE);
    String after = QueryParameters.text(ctx, NextPage.AFTER);
    Lot lot = source.named(ctx.pathParam("lot"), atC);
    List<LotTables.Unit> left =
        screened(lot, limits.get()).stream()
            .filter(u -> after == null || u.unit().tracker().compareTo(after) > 0)
            .toList();
    List<LotTables.Unit> page = left.subList(0, Math.min(limit, left.size()));
    String next = left.size() > limit ? NextPage.of(ctx, last(page), KEPT_IN_NEXT) : null;
    LotTables.UNITS.answer(ctx, form, "units", page, next, Map.of());
  }

  private void compare(Context ctx, ResponseFormat form) {
    Metric metric = LotParameters.metric(ctx);
    Double atC = QueryParameters.celsius(ctx, LotParameters.AT_C);
    List<Lot> lots = source.of(LotParameters.lots(ctx, source.listed().keySet()), atC);
    Comparison comparison = Comparison.of(metric, lots, limits.get(), LotParameters.wanted(ctx));
    ComparisonTables tables = new ComparisonTables(lots, atC);
    if (form == ResponseFormat.CSV) {
      tables.pairs(comparison).answer(ctx, form, "pairs", comparison.pairs());
    } else {
      JsonResponses.json(ctx, tables.whole().json(comparison));
    }
  }
}
