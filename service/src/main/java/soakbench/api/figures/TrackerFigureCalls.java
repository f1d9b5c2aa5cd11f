package soakbench.api.figures;

import io.javalin.http.Context;
import java.util.List;
import java.util.Map;
import java.util.Set;
import soakbench.api.http.NextPage;
import soakbench.api.http.QueryParameters;
import soakbench.api.http.ResponseFormat;
import soakbench.api.http.Routes;
import soakbench.api.http.Table;
import soakbench.api.http.TrackerFilter;
import soakbench.api.http.TrackerNames;
import soakbench.live.deriving.DerivationRunner;
import soakbench.lots.CurveDifference;
import soakbench.lots.SoakChanges;
import soakbench.lots.TrackerCurves;
import soakbench.lots.TrackerFigures;
import soakbench.lots.UnitSoak;
import soakbench.readiness.Calibration;
import soakbench.store.Database;
import soakbench.store.derived.DerivedCalibrations;
import soakbench.store.derived.UnitFigures;
import soakbench.store.derived.UnitFigures.Asked;

/**
 * Every tracker's figures in one table, and one tracker's soak by soak; read as they are stored.
 */
public final class TrackerFigureCalls {
  private static final Table<UnitSoak> SOAKS =
      new Table<UnitSoak>()
          .column("soak", one -> one.soak().id())
          .time("start", one -> one.soak().startUs())
          .time("end", one -> one.soak().endUs())
          .column("ended", one -> one.soak().ended())
          .column("left_out", UnitSoak::leftOut)
          .member("figures", UnitSoak::figures);

  /** A row of figures has some four thousand characters. */
  private static final int PAGE = 200;

  private static final int LONGEST_PAGE = 10_000;
  private static final String AT_C = "at_c";
  private static final String SHAPE = "shape";
  private static final List<String> KEPT_IN_NEXT =
      List.of(AT_C, "limit", SHAPE, TrackerFilter.LOT, TrackerFilter.RACK, TrackerFilter.SINCE);

  private static final String EXTRAPOLATED = "beyond the temperatures of its soaks";

  /** What is told at the temperature that was asked for. */
  private static final Set<String> AT_ONE_TEMPERATURE =
      Set.of("bias_dps", "tempco_dps_per_c", "turn_on_dps");

  private final TrackerSoaks soaks;
  private final UnitFigures units;
  private final DerivedCalibrations calibrations;
  private final TrackerNames names;
  private final Table<TrackerFiguresRow> table;
  private final LongShape<TrackerFiguresRow> longShape;

  /**
   * @param runner derives the figures; knows what failed
   */
  public TrackerFigureCalls(Database database, DerivationRunner runner, TrackerNames names) {
    this.soaks = new TrackerSoaks(database.figureTable(), runner);
    this.units = database.unitFigures();
    this.calibrations = database.calibrationTable();
    this.names = names;
    this.table = TrackerFiguresTable.of(names);
    this.longShape = new LongShape<>(table, "tracker", TrackerFigureCalls::caution);
  }

  public void addTo(Routes routes) {
    routes
        .table(
            "/api/figures",
            this::all,
            NextPage.AFTER,
            AT_C,
            "limit",
            SHAPE,
            TrackerFilter.LOT,
            TrackerFilter.RACK,
            TrackerFilter.SINCE)
        .json("/api/trackers/{id}/figures", this::one, AT_C);
    new TrackerCurveCalls(soaks).addTo(routes);
  }

  /**
   * A tracker's figures together, as {@link TrackerFiguresTable} gives them, and soak by soak, and
   * its newest curve against the earlier, and the newest soak's figures against those of the one
   * before; both of soaks that count.
   */
  record OfTracker(
      Object together, List<?> soaks, List<CurveDifference> curves, SoakChanges changes) {}

  /** A spreadsheet asks for a table once and follows no pages: without a limit it gets all. */
  private void all(Context ctx, ResponseFormat form) {
    Double atC = QueryParameters.celsius(ctx, AT_C);
    boolean sheet = form == ResponseFormat.CSV && QueryParameters.text(ctx, "limit") == null;
    int limit = sheet ? LONGEST_PAGE : QueryParameters.count(ctx, "limit", PAGE, LONGEST_PAGE);
    List<TrackerCurves> found = units.of(asked(ctx, limit + 1));
    List<TrackerCurves> page = found.subList(0, Math.min(limit, found.size()));
    String next =
        found.size() > limit
            ? NextPage.of(ctx, page.get(limit - 1).figures().tracker(), KEPT_IN_NEXT)
            : null;
    Map<String, Calibration> checked = calibrations.newestChecked();
    TrackerFilter which = TrackerFilter.of(ctx);
    List<TrackerFiguresRow> rows =
        page.stream()
            .map(unit -> row(unit, atC, checked))
            .filter(row -> which.hasTime(row.figures().soaks().newest().endUs()))
            .toList();
    if (isLong(ctx)) {
      LongShape.TABLE.answer(ctx, form, "figures", longShape.rows(rows), next, Map.of());
    } else {
      table.answer(ctx, form, "figures", rows, next, Map.of());
    }
  }

  private static boolean isLong(Context ctx) {
    String shape = QueryParameters.text(ctx, SHAPE);
    if (shape == null || shape.equals("wide")) {
      return false;
    }
    if (shape.equals("long")) {
      return true;
    }
    throw QueryParameters.invalid(SHAPE, "shape=" + shape + " must be wide or long.");
  }

  private static String caution(TrackerFiguresRow row, String figure) {
    return row.figures().extrapolated() && AT_ONE_TEMPERATURE.contains(figure)
        ? EXTRAPOLATED
        : null;
  }

  private static Asked asked(Context ctx, int most) {
    TrackerFilter which = TrackerFilter.of(ctx);
    String after = QueryParameters.text(ctx, NextPage.AFTER);
    return Asked.page(which.lot(), which.rack(), after, most);
  }

  private static TrackerFiguresRow row(
      TrackerCurves unit, Double atC, Map<String, Calibration> checked) {
    TrackerFigures figures = atC == null ? unit.figures() : unit.at(atC);
    return new TrackerFiguresRow(figures, checked.get(figures.tracker()));
  }

  private OfTracker one(Context ctx) {
    String id = ctx.pathParam("id");
    Double atC = QueryParameters.celsius(ctx, AT_C);
    List<UnitSoak> soaks = this.soaks.of(ctx);
    Calibration checked =
        calibrations.of(id).stream().filter(c -> c.check() != null).findFirst().orElse(null);
    List<UnitSoak> counted = UnitSoak.counted(soaks);
    Map<String, Calibration> checks = checked == null ? Map.of() : Map.of(id, checked);
    return new OfTracker(
        table.json(row(TrackerCurves.of(soaks), atC, checks)),
        SOAKS.json(soaks),
        CurveDifference.each(counted, atC),
        SoakChanges.newest(counted));
  }
}
