package soakbench.api.figures;

import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import soakbench.api.figures.TrackerFiguresTable.Row;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;
import soakbench.api.http.ResponseFormat;
import soakbench.api.http.Routes;
import soakbench.api.http.Table;
import soakbench.api.http.TrackerFilter;
import soakbench.api.http.TrackerNames;
import soakbench.live.deriving.DerivationRunner;
import soakbench.lots.CurveDifference;
import soakbench.lots.SoakChanges;
import soakbench.lots.TrackerFigures;
import soakbench.lots.UnitSoak;
import soakbench.model.Tracker;
import soakbench.readiness.Calibration;
import soakbench.store.Database;
import soakbench.store.derived.DerivedCalibrations;
import soakbench.store.derived.DerivedFigures;

/**
 * Every tracker's figures in one table, and one tracker's soak by soak; read as they are stored.
 */
public final class TrackerFigureCalls {
  private static final String NO_SOAK =
      "it never had a soak, or its first one began within the last minute";

  private static final Table<UnitSoak> SOAKS =
      new Table<UnitSoak>()
          .column("soak", one -> one.soak().id())
          .time("start", one -> one.soak().startUs())
          .time("end", one -> one.soak().endUs())
          .column("ended", one -> one.soak().ended())
          .column("left_out", UnitSoak::leftOut)
          .member("figures", UnitSoak::figures);

  private final DerivedFigures figures;
  private final DerivedCalibrations calibrations;
  private final DerivationRunner runner;
  private final TrackerNames names;
  private final Table<Row> table;

  /**
   * @param runner derives the figures; knows what failed
   */
  public TrackerFigureCalls(Database database, DerivationRunner runner, TrackerNames names) {
    this.figures = database.figureTable();
    this.calibrations = database.calibrationTable();
    this.runner = runner;
    this.names = names;
    this.table = TrackerFiguresTable.of(names);
  }

  public void addTo(Routes routes) {
    routes
        .table("/api/figures", this::all, TrackerFilter.LOT, TrackerFilter.RACK)
        .json("/api/trackers/{id}/figures", this::one);
  }

  /**
   * A tracker's figures together, as {@link TrackerFiguresTable} gives them, and soak by soak, and
   * its newest curve against the earlier, and the newest soak's figures against those of the one
   * before; both of soaks that count.
   */
  record OfTracker(
      Object together, List<?> soaks, List<CurveDifference> curves, SoakChanges changes) {}

  private void all(Context ctx, ResponseFormat form) {
    TrackerFilter which = TrackerFilter.of(ctx);
    Map<String, List<UnitSoak>> units = new LinkedHashMap<>();
    for (UnitSoak soak : figures.of(null, which.lot())) {
      units.computeIfAbsent(soak.soak().tracker(), t -> new ArrayList<>()).add(soak);
    }
    Map<String, Calibration> checked = calibrations.newestChecked();
    List<Row> rows =
        units.values().stream()
            .filter(u -> which.hasTracker(u.get(0).soak().tracker(), names))
            .map(TrackerFigures::of)
            .map(f -> new Row(f, checked.get(f.tracker())))
            .toList();
    table.answer(ctx, form, "figures", rows);
  }

  private OfTracker one(Context ctx) {
    String id = ctx.pathParam("id");
    List<UnitSoak> soaks = Tracker.isId(id) ? figures.of(id, null) : List.of();
    if (soaks.isEmpty()) {
      throw new ProblemException(
          Problem.Kind.UNKNOWN_TRACKER,
          "No figures of tracker %s are kept: %s. GET /api/figures lists those that have some."
              .formatted(id, runner.failureOf(id).orElse(NO_SOAK)));
    }
    Calibration checked =
        calibrations.of(id).stream().filter(c -> c.check() != null).findFirst().orElse(null);
    List<UnitSoak> counted = TrackerFigures.counted(soaks);
    return new OfTracker(
        table.json(new Row(TrackerFigures.of(soaks), checked)),
        SOAKS.json(soaks),
        TrackerFigures.curves(counted),
        SoakChanges.newest(counted));
  }
}
