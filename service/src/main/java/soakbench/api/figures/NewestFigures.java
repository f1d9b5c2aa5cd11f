package soakbench.api.figures;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.function.Function;
import java.util.stream.Collectors;
import soakbench.api.http.Table;
import soakbench.api.http.TrackerFilter;
import soakbench.api.http.TrackerNames;
import soakbench.live.StoreException;
import soakbench.lots.TrackerCurves;
import soakbench.readiness.Calibration;
import soakbench.store.Database;
import soakbench.store.derived.DerivedCalibrations;
import soakbench.store.derived.UnitFigures;
import soakbench.store.derived.UnitFigures.Asked;

/**
 * Every tracker's figures for who asks for them one by one, many times a second: read together, and
 * again after some seconds. Thread-safe; throws {@link StoreException} when the database does not
 * answer.
 */
public final class NewestFigures {
  /** Figures follow a soak each minute, and a spreadsheet asks for 2,000 cells within seconds. */
  private static final long KEEP_NS = TimeUnit.SECONDS.toNanos(10);

  private record Kept(Map<String, TrackerFiguresRow> rows, long atNs) {}

  private final UnitFigures units;
  private final DerivedCalibrations calibrations;
  private final Table<TrackerFiguresRow> table;
  private volatile Kept kept;

  public NewestFigures(Database database, TrackerNames names) {
    this.units = database.unitFigures();
    this.calibrations = database.calibrationTable();
    this.table = TrackerFiguresTable.of(names);
  }

  /** How they are answered. */
  public Table<TrackerFiguresRow> table() {
    return table;
  }

  /** Those that pass a filter, as they are now. */
  public List<TrackerFiguresRow> rows(TrackerFilter which) {
    Map<String, Calibration> checked = calibrations.newestChecked();
    return units.of(Asked.page(which.lot(), which.rack(), null, Integer.MAX_VALUE)).stream()
        .map(TrackerCurves::figures)
        .map(f -> new TrackerFiguresRow(f, checked.get(f.tracker())))
        .filter(row -> which.hasTime(row.figures().soaks().newest().endUs()))
        .toList();
  }

  /** Those of one tracker, at most some seconds old. */
  public Optional<TrackerFiguresRow> of(String tracker) {
    Kept known = kept;
    return Optional.ofNullable((isOld(known) ? read() : known).rows().get(tracker));
  }

  private static boolean isOld(Kept known) {
    return known == null || System.nanoTime() - known.atNs() > KEEP_NS;
  }

  /** Once for all who ask meanwhile. */
  private synchronized Kept read() {
    if (isOld(kept)) {
      Map<String, TrackerFiguresRow> rows =
          rows(new TrackerFilter(null, null, null)).stream()
              .collect(Collectors.toMap(r -> r.figures().tracker(), Function.identity()));
      kept = new Kept(rows, System.nanoTime());
    }
    return kept;
  }
}
