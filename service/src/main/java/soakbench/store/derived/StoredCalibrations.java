package soakbench.store.derived;

import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import soakbench.live.StoreException;
import soakbench.live.calibration.CalibrationAsk;
import soakbench.live.calibration.CalibrationShelf;
import soakbench.live.calibration.CalibrationsFound;
import soakbench.model.Bin;
import soakbench.model.Soak;
import soakbench.readiness.Calibration;
import soakbench.store.connection.Pools;
import soakbench.store.connection.Query;
import soakbench.store.rows.Series;
import soakbench.store.rows.Soaks;
import soakbench.store.rows.Timelines;
import soakbench.store.rows.Times;

/**
 * What calibrations are derived from, and table {@code kept_calibrations} where they are kept. Safe
 * for many threads; all calls throw {@link StoreException} when the database does not answer.
 */
public final class StoredCalibrations implements CalibrationShelf {
  /** How soon something under way is looked at again, s. */
  private static final int PENDING_EVERY_S = 2;

  private static final String CHANGES = "(SELECT count(*)::int FROM timeline WHERE soak = s.id)";

  private static final String HEARD = "(SELECT max(end_time) FROM soak WHERE tracker = s.tracker)";

  private static final String BEFORE = DueSoaks.before("p.ended = 'cooler_reboot'");

  private static final String SAID =
      "(SELECT string_agg(concat(extract(epoch FROM at), was), ' ' ORDER BY at)"
          + " FROM calibration_said WHERE tracker = s.tracker"
          + " AND at >= s.start_time - interval '1 s' AND at <= s.end_time + interval '2 s')";

  private static final String USE_C =
      "CASE jsonb_typeof(t.limits->'use_temperature_c') WHEN 'number'"
          + " THEN (t.limits->'use_temperature_c')::float8 END";

  private static final String SOAK =
      DueSoaks.select(
          "kept_calibrations", ", " + CHANGES + ", " + HEARD + ", " + BEFORE + ", " + SAID);

  /**
   * Only of soaks that go on are lines counted and newest samples looked for: there may be many.
   */
  private static final String DUE =
      DueSoaks.due(
          "k.changes <> " + CHANGES,
          " OR k.use_c <> "
              + USE_C
              + (" OR k.before_state IS DISTINCT FROM " + BEFORE)
              + (" OR k.said IS DISTINCT FROM " + SAID)
              + " OR (k.pending AND k.derived_at < now() - make_interval(secs => ?)"
              + (" AND k.heard < " + HEARD + ")"));

  private static final String KEEP =
      "INSERT INTO kept_calibrations (soak, end_time, samples, ended, rates, use_c, version,"
          + " changes, heard, pending, before_state, said, marks)"
          + " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?::jsonb)"
          + " ON CONFLICT (soak) DO UPDATE SET end_time = EXCLUDED.end_time,"
          + " samples = EXCLUDED.samples, ended = EXCLUDED.ended, rates = EXCLUDED.rates,"
          + " use_c = EXCLUDED.use_c, version = EXCLUDED.version, changes = EXCLUDED.changes,"
          + " heard = EXCLUDED.heard, pending = EXCLUDED.pending, derived_at = now(),"
          + " before_state = EXCLUDED.before_state, said = EXCLUDED.said,"
          + " marks = EXCLUDED.marks";

  private final Pools pools;

  private final DueNotes notes;
  private final DueSearch search;
  private final JsonColumn<Calibration[]> column;

  public StoredCalibrations(Pools pools, DueNotes notes) {
    this.pools = pools;
    this.notes = notes;
    this.column = new JsonColumn<>(Calibration[].class, "kept calibrations", notes);
    this.search =
        new DueSearch(
            pools,
            notes,
            "looking for calibrations that are out of date",
            "kept_calibrations",
            DUE,
            "k.pending");
  }

  @Override
  public List<String> due(int version, int most, Set<String> not) {
    return search.find(most, not, version, PENDING_EVERY_S);
  }

  @Override
  public Optional<Due> soak(String soak) {
    Optional<Due> found =
        pools.request(
            "looking for a soak",
            c -> Query.list(c, StoredCalibrations::readDue, SOAK, soak).stream().findFirst());
    if (found.isEmpty()) {
      notes.readable(soak);
    }
    return found;
  }

  @Override
  public CalibrationAsk ask(Due due) {
    return pools.export("reading what calibrations are found in", c -> ask(c, due));
  }

  private static CalibrationAsk ask(Connection c, Due due) throws SQLException {
    Soak soak = due.soak();
    Soak before = Soaks.before(c, soak).orElse(null);
    List<Bin> bins = new ArrayList<>();
    for (long[] part : CalibrationAsk.parts(soak, before)) {
      CalibrationAsk.append(bins, Series.bins(c, soak.tracker(), part[0], part[1]));
    }
    return new CalibrationAsk(
        soak,
        bins,
        Timelines.read(c, soak.id()),
        CalibrationSaid.of(c, soak),
        due.limits(),
        due.rates());
  }

  @Override
  public List<Calibration> kept(String soak) {
    return pools.request(
        "reading calibrations",
        c ->
            Query.list(
                    c,
                    this::readMarks,
                    "SELECT soak, marks FROM kept_calibrations WHERE soak = ?",
                    soak)
                .stream()
                .flatMap(List::stream)
                .toList());
  }

  @Override
  public void keep(Due due, int version, CalibrationsFound found) {
    Soak soak = due.soak();
    pools.change(
        "keeping calibrations",
        c ->
            Query.change(
                c,
                KEEP,
                soak.id(),
                Times.time(soak.endUs()),
                soak.samples(),
                !soak.open(),
                due.rates().name().toLowerCase(Locale.ROOT),
                due.limits().useTemperatureC(),
                version,
                due.changes(),
                Times.time(due.heardUs()),
                found.pending(),
                due.before(),
                due.said(),
                JsonColumn.text(found.marks())));
    notes.readable(soak.id());
  }

  @Override
  public void say(String tracker, long atUs, boolean was) {
    pools.change(
        "keeping what was said of a calibration", c -> CalibrationSaid.put(c, tracker, atUs, was));
  }

  @Override
  public void unsay(String tracker, long atUs) {
    pools.change(
        "forgetting what was said of a calibration", c -> CalibrationSaid.clear(c, tracker, atUs));
  }

  @Override
  public Optional<Soak> soakAt(String tracker, long atUs) {
    return pools.request(
        "looking for a soak",
        c ->
            Query.list(
                    c,
                    Soaks::read,
                    "SELECT "
                        + Soaks.COLUMNS
                        + " FROM soak WHERE tracker = ? AND start_time <= ? AND end_time >= ?"
                        + " ORDER BY start_time DESC LIMIT 1",
                    tracker,
                    Times.time(atUs),
                    Times.time(atUs - 1_000_000L))
                .stream()
                .findFirst());
  }

  private static Due readDue(ResultSet rows) throws SQLException {
    return new Due(
        DueSoaks.soak(rows),
        DueSoaks.limits(rows),
        DueSoaks.rates(rows),
        rows.getInt(9),
        Times.us(rows, 10),
        rows.getString(11),
        rows.getString(12));
  }

  private List<Calibration> readMarks(ResultSet rows) throws SQLException {
    return column.read(rows.getString(1), rows.getString(2)).map(List::of).orElse(List.of());
  }
}
