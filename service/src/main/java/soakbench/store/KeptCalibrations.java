package soakbench.store;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import soakbench.live.CalibrationAsk;
import soakbench.live.CalibrationShelf;
import soakbench.live.CalibrationsFound;
import soakbench.live.StoreException;
import soakbench.model.Bin;
import soakbench.model.Soak;
import soakbench.model.Tracker.Rates;
import soakbench.readiness.Calibration;

/**
 * Tables {@code kept_calibrations} and {@code calibration_said}. Safe for many threads; all calls
 * throw {@link StoreException} when the database does not answer.
 */
public final class KeptCalibrations implements CalibrationShelf {
  /** How soon something under way is looked at again, s. */
  private static final int PENDING_EVERY_S = 2;

  private static final ObjectMapper MAPPER = new ObjectMapper();

  private static final String CHANGES = "(SELECT count(*)::int FROM timeline WHERE soak = s.id)";

  private static final String HEARD = "(SELECT max(end_time) FROM soak WHERE tracker = s.tracker)";

  private static final String SOAKS =
      "SELECT s.id, s.tracker, s.start_time, s.end_time, s.samples, s.ended, t.limits,"
          + " coalesce(r.rates, 'unknown'), "
          + CHANGES
          + ", "
          + HEARD
          + " FROM soak s"
          + " JOIN soak_terms t ON t.soak = s.id"
          + " LEFT JOIN tracker r ON r.id = s.tracker"
          + " LEFT JOIN kept_calibrations k ON k.soak = s.id";

  /**
   * Only of soaks that go on are lines counted and newest samples looked for: there may be many.
   */
  private static final String DUE =
      SOAKS
          + " WHERE k.soak IS NULL OR k.version <> ?"
          + " OR k.rates <> coalesce(r.rates, 'unknown') OR k.ended <> (s.ended IS NOT NULL)"
          + " OR k.use_c <> (t.limits->>'use_temperature_c')::float8"
          + " OR ((k.end_time, k.samples) <> (s.end_time, s.samples)"
          + " AND (s.ended IS NOT NULL OR k.changes <> "
          + CHANGES
          + "))"
          + " OR (k.pending AND k.derived_at < now() - make_interval(secs => ?)"
          + " AND k.heard < "
          + HEARD
          + ") ORDER BY s.end_time DESC, s.id LIMIT ?";

  private static final String KEEP =
      "INSERT INTO kept_calibrations (soak, end_time, samples, ended, rates, use_c, version,"
          + " changes, heard, pending, marks) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?::jsonb)"
          + " ON CONFLICT (soak) DO UPDATE SET end_time = EXCLUDED.end_time,"
          + " samples = EXCLUDED.samples, ended = EXCLUDED.ended, rates = EXCLUDED.rates,"
          + " use_c = EXCLUDED.use_c, version = EXCLUDED.version, changes = EXCLUDED.changes,"
          + " heard = EXCLUDED.heard, pending = EXCLUDED.pending, derived_at = now(),"
          + " marks = EXCLUDED.marks";

  private static final String SAY =
      "INSERT INTO calibration_said (tracker, at, was) VALUES (?, ?, ?)"
          + " ON CONFLICT (tracker, at) DO UPDATE SET was = EXCLUDED.was";

  private static final String MARKS =
      "SELECT s.id, k.marks FROM kept_calibrations k JOIN soak s ON s.id = k.soak"
          + " WHERE k.marks <> '[]'::jsonb AND (?::text IS NULL OR s.tracker = ?)";

  private final Pools pools;

  KeptCalibrations(Pools pools) {
    this.pools = pools;
  }

  @Override
  public List<Due> due(int version, int most) {
    return pools.request(
        "looking for calibrations that are out of date",
        c -> Query.list(c, KeptCalibrations::readDue, DUE, version, PENDING_EVERY_S, most));
  }

  @Override
  public Optional<Due> soak(String soak) {
    return pools.request(
        "looking for a soak",
        c ->
            Query.list(c, KeptCalibrations::readDue, SOAKS + " WHERE s.id = ?", soak).stream()
                .findFirst());
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
    Map<Long, Boolean> said = new HashMap<>();
    Query.each(
        c,
        rows -> Map.entry(us(rows, 1) / 1_000_000L, rows.getBoolean(2)),
        row -> said.put(row.getKey(), row.getValue()),
        "SELECT at, was FROM calibration_said WHERE tracker = ? AND at >= ? AND at <= ?",
        soak.tracker(),
        Times.time(soak.startUs() - 1_000_000L),
        Times.time(soak.endUs() + 2_000_000L));
    return new CalibrationAsk(
        soak, bins, Timelines.read(c, soak.id()), said, due.limits(), due.rates());
  }

  @Override
  public List<Calibration> kept(String soak) {
    return pools.request(
        "reading calibrations",
        c ->
            Query.list(
                    c,
                    KeptCalibrations::readMarks,
                    "SELECT soak, marks FROM kept_calibrations WHERE soak = ?",
                    soak)
                .stream()
                .flatMap(List::stream)
                .toList());
  }

  @Override
  public void keep(Due due, int version, CalibrationsFound found) {
    Soak soak = due.soak();
    pools.request(
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
                text(found.marks())));
  }

  @Override
  public void say(String tracker, long atUs, boolean was) {
    pools.request(
        "keeping what was said of a calibration",
        c -> Query.change(c, SAY, tracker, Times.time(atUs), was));
  }

  @Override
  public void unsay(String tracker, long atUs) {
    pools.request(
        "forgetting what was said of a calibration",
        c ->
            Query.change(
                c,
                "DELETE FROM calibration_said WHERE tracker = ? AND at = ?",
                tracker,
                Times.time(atUs)));
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

  /** All of a tracker's marks, undone ones too, the newest first. */
  public List<Calibration> of(String tracker) {
    return newestFirst(tracker).toList();
  }

  /**
   * The newest mark or question of every tracker, by tracker.
   *
   * @param undone whether those that have none have their newest undone mark in its place
   */
  public Map<String, Calibration> newest(boolean undone) {
    return newestFirst(null)
        .filter(c -> undone || c.status() != Calibration.Status.UNDONE)
        .sorted(Comparator.comparing(c -> c.status() == Calibration.Status.UNDONE))
        .collect(Collectors.toMap(Calibration::tracker, c -> c, (newer, older) -> newer));
  }

  /** The newest mark of every tracker that has a check, by tracker. */
  public Map<String, Calibration> newestChecked() {
    return newestFirst(null)
        .filter(c -> c.check() != null)
        .collect(Collectors.toMap(Calibration::tracker, c -> c, (newer, older) -> newer));
  }

  private Stream<Calibration> newestFirst(String tracker) {
    return pools
        .request(
            "reading calibrations",
            c -> Query.list(c, KeptCalibrations::readMarks, MARKS, tracker, tracker))
        .stream()
        .flatMap(List::stream)
        .sorted(Comparator.comparingLong(Calibration::atUs).reversed());
  }

  private static Due readDue(ResultSet rows) throws SQLException {
    return new Due(
        Soaks.read(rows),
        LimitsColumn.limits(rows.getString(7)),
        Rates.valueOf(rows.getString(8).toUpperCase(Locale.ROOT)),
        rows.getInt(9),
        us(rows, 10));
  }

  private static long us(ResultSet rows, int column) throws SQLException {
    return Times.us(rows.getObject(column, OffsetDateTime.class));
  }

  private static String text(List<Calibration> marks) {
    try {
      return MAPPER.writeValueAsString(marks);
    } catch (JsonProcessingException e) {
      throw new IllegalArgumentException("calibrations that JSON can't hold: " + marks, e);
    }
  }

  /**
   * @throws IllegalArgumentException if somebody changed the column by hand and it holds none
   */
  private static List<Calibration> readMarks(ResultSet rows) throws SQLException {
    try {
      return List.of(MAPPER.readValue(rows.getString(2), Calibration[].class));
    } catch (JsonProcessingException e) {
      throw new IllegalArgumentException(
          "kept calibrations of " + rows.getString(1) + " can't be read", e);
    }
  }
}
