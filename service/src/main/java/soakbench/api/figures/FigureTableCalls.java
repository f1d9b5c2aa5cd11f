package soakbench.api.figures;

import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import soakbench.api.figures.FiguresTable.Row;
import soakbench.api.http.AnswerForm;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;
import soakbench.api.http.Routes;
import soakbench.api.http.Table;
import soakbench.api.http.TrackerNames;
import soakbench.api.http.WhichTrackers;
import soakbench.live.deriving.Deriving;
import soakbench.lots.CurveDifference;
import soakbench.lots.SoakChanges;
import soakbench.lots.SoakFigureSet;
import soakbench.lots.TrackerFigures;
import soakbench.lots.UnitSoak;
import soakbench.model.Tracker;
import soakbench.readiness.Calibration;
import soakbench.store.Database;
import soakbench.store.derived.DerivedCalibrations;
import soakbench.store.derived.DerivedFigures;

/** Every tracker's figures in one table, and one tracker's soak by soak; read as they are kept. */
public final class FigureTableCalls {
  private static final String NO_SOAK =
      "it never had a soak, or its first one began within the last minute";

  private final DerivedFigures figures;
  private final DerivedCalibrations calibrations;
  private final Deriving deriving;
  private final TrackerNames names;
  private final Table<Row> table;

  /**
   * @param deriving how it goes with the figures
   */
  public FigureTableCalls(Database database, Deriving deriving, TrackerNames names) {
    this.figures = database.figureTable();
    this.calibrations = database.calibrationTable();
    this.deriving = deriving;
    this.names = names;
    this.table = FiguresTable.of(names);
  }

  public void addTo(Routes routes) {
    routes
        .table("/api/figures", this::all, WhichTrackers.LOT, WhichTrackers.RACK)
        .json("/api/trackers/{id}/figures", this::one);
  }

  /** One soak's figures in the list of a tracker's. */
  record OfSoak(String soak, long startUs, long endUs, boolean ended, SoakFigureSet figures) {
    static OfSoak of(UnitSoak one) {
      return new OfSoak(
          one.soak().id(),
          one.soak().startUs(),
          one.soak().endUs(),
          !one.soak().open(),
          one.figures());
    }
  }

  /**
   * A tracker's figures together, as {@link FiguresTable} gives them, and soak by soak, and its
   * newest curve against the earlier, and the newest soak's figures against those of the one
   * before.
   */
  record OfTracker(
      Object together, List<OfSoak> soaks, List<CurveDifference> curves, SoakChanges changes) {}

  private void all(Context ctx, AnswerForm form) {
    WhichTrackers which = WhichTrackers.of(ctx);
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
              .formatted(id, deriving.failureOf(id).orElse(NO_SOAK)));
    }
    Calibration checked =
        calibrations.of(id).stream().filter(c -> c.check() != null).findFirst().orElse(null);
    return new OfTracker(
        table.json(new Row(TrackerFigures.of(soaks), checked)),
        soaks.stream().map(OfSoak::of).toList(),
        TrackerFigures.curves(soaks),
        SoakChanges.newest(soaks));
  }
}
