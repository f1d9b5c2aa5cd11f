package soakbench.api.sheet;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import soakbench.api.calibrations.CalibrationTable;
import soakbench.api.figures.LongShape;
import soakbench.api.figures.NewestFigures;
import soakbench.api.figures.TrackerFiguresRow;
import soakbench.api.http.Table;
import soakbench.api.http.TrackerFilter;
import soakbench.api.http.TrackerNames;
import soakbench.api.imports.ImportTable;
import soakbench.api.lots.LotRow;
import soakbench.api.lots.LotSheet;
import soakbench.api.roster.TrackerTable;
import soakbench.api.soaks.SoakTable;
import soakbench.model.Tracker;
import soakbench.readiness.Calibration;
import soakbench.store.Database;
import soakbench.store.RecordingImport;
import soakbench.store.SoakQuery;

/** The tables that spreadsheets read, each with its rows. */
public final class SheetTables {
  private final Database database;
  private final TrackerNames names;
  private final ReadinessSheet readiness;
  private final LotSheet lots;
  private final NewestFigures figures;

  public SheetTables(
      Database database, TrackerNames names, ReadinessSheet readiness, LotSheet lots) {
    this.database = database;
    this.names = names;
    this.readiness = readiness;
    this.lots = lots;
    this.figures = new NewestFigures(database, names);
  }

  /** Those of which a tracker and a column name a cell; of a name that two have the first's. */
  public List<CellSource<?>> cells() {
    return List.of(
        new CellSource<>(roster(), id -> Optional.of(names.entry(id))),
        new CellSource<>(readiness.table(), readiness::of),
        new CellSource<>(figures(), figures::of));
  }

  /** All of them. */
  public List<SheetTable<?>> all() {
    return List.of(
        readiness.table(),
        figures(),
        longFigures(),
        calibrations(),
        soaks(),
        roster(),
        lots(),
        imports());
  }

  /** Of a tracker that is not listed its id and defaults. */
  private SheetTable<Tracker> roster() {
    Table<Tracker> table = new Table<Tracker>().cell("tracker", Tracker::id);
    TrackerTable.TABLE.columns().stream()
        .filter(column -> !column.name().equals("id"))
        .forEach(column -> table.cell(column.name(), column.of()));
    return new SheetTable<>(
        "trackers", "/api/trackers.csv", "a listed tracker", table, this::listed);
  }

  private List<Tracker> listed(TrackerFilter which) {
    return names.all().stream()
        .filter(t -> which.has(t.lot(), t.rack()))
        .sorted(Comparator.comparing(Tracker::id))
        .toList();
  }

  private SheetTable<TrackerFiguresRow> figures() {
    return new SheetTable<>(
        "figures",
        "/api/figures.csv",
        "a tracker, from all its soaks",
        figures.table(),
        figures::rows);
  }

  private SheetTable<LongShape.Row> longFigures() {
    LongShape<TrackerFiguresRow> shape =
        new LongShape<>(figures.table(), "tracker", (row, name) -> null);
    return new SheetTable<>(
        "figures_long",
        "/api/figures.csv?shape=long",
        "a figure of a tracker",
        LongShape.TABLE,
        which -> shape.rows(figures.rows(which)));
  }

  private SheetTable<Calibration> calibrations() {
    return new SheetTable<>(
        "calibrations",
        "/api/calibrations.csv?all=true",
        "a calibration with its check",
        CalibrationTable.of(names::of),
        which ->
            database.calibrationTable().all(false).stream()
                .filter(c -> which.hasTracker(c.tracker(), names) && which.hasTime(c.atUs()))
                .toList());
  }

  private SheetTable<SoakTable.Row> soaks() {
    return new SheetTable<>(
        "soaks", "/api/soaks.csv?limit=1000", "a soak", SoakTable.of(names), this::soaks);
  }

  private List<SoakTable.Row> soaks(TrackerFilter which) {
    SoakQuery query =
        new SoakQuery(
            null, which.lot(), which.rack(), which.sinceUs(), null, null, Integer.MAX_VALUE);
    Map<String, String> leftOut = database.leftOut().reasons();
    List<SoakTable.Row> rows = new ArrayList<>();
    database
        .archive()
        .soaks(query)
        .forEach(s -> rows.add(new SoakTable.Row(s, leftOut.get(s.id()))));
    return rows;
  }

  private SheetTable<LotRow> lots() {
    return new SheetTable<>(
        "lots", "/api/lots.csv?limit=500", "a figure of a lot", lots.table(), lots::rows);
  }

  /**
   * An import is of no tracker, so where only those of a lot or a rack are asked for it is none.
   */
  private SheetTable<RecordingImport> imports() {
    return new SheetTable<>(
        "imports",
        "/api/imports.csv?limit=1000",
        "an import of recordings",
        ImportTable.IMPORTS,
        which ->
            which.hasTracker(null, names)
                ? database.imports().newest(which.sinceUs(), Integer.MAX_VALUE)
                : List.of());
  }
}
