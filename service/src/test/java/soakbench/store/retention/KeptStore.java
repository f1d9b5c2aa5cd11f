package soakbench.store.retention;

import java.sql.Connection;
import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;
import soakbench.live.SoakStore;
import soakbench.live.calibration.CalibrationDeriver;
import soakbench.live.figures.FigureDeriver;
import soakbench.live.figures.SummaryDeriver;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Limits;
import soakbench.model.RackSet;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.store.Database;
import soakbench.store.connection.Query;
import soakbench.store.rows.SqlTimes;
import soakbench.store.server.DatabaseSettings;
import soakbench.store.server.ServerAddress;

/** A database of trackers with soaks of a minute each, and the pass that removes samples of it. */
final class KeptStore implements AutoCloseable {
  static final long S = 1_000_000;
  static final long DAY_US = 86_400 * S;

  /** An evening, so that what goes on is soon of the next day. */
  static final long START_US = 1_772_405_970 * S;

  private final DatabaseSettings settings;
  Database database;
  SoakWatch watch;

  private final RackSet racks;

  KeptStore(DatabaseSettings settings) {
    this(settings, RackSet.ALL);
  }

  KeptStore(DatabaseSettings settings, RackSet racks) {
    this.settings = settings;
    this.racks = racks;
    open();
  }

  private void open() {
    database = Database.prepared(settings, racks);
    database.openToWrite(step -> {});
    watch = new SoakWatch(database.soakStore(), Limits.DEFAULT, () -> 0);
    watch.writesFor(racks);
    watch.restore();
  }

  /** As a crash does: whatever was only in memory is lost. */
  void restart() {
    database.close();
    open();
  }

  static Instant at(long afterUs) {
    return SqlTimes.time(START_US + afterUs).toInstant();
  }

  static List<Sample> seconds(String tracker, long afterUs, int from, int to) {
    return IntStream.range(from, to)
        .mapToObj(
            s ->
                new Sample(
                    tracker,
                    START_US + afterUs + s * S,
                    25 + s / 1000f,
                    false,
                    0.3f,
                    0,
                    0,
                    0,
                    0,
                    1,
                    s,
                    s * 1000L))
        .toList();
  }

  /** A soak of a minute, taken off, with all that is derived of it. */
  void soak(String tracker, long afterUs) {
    watch.accept(seconds(tracker, afterUs, 0, 60));
    watch.end(newest(tracker).id());
    derive();
  }

  void derive() {
    FigureDeriver figures = new FigureDeriver(database.figures());
    CalibrationDeriver calibrations =
        new CalibrationDeriver(database.calibrations(), database.calibrationReports());
    SummaryDeriver summaries = new SummaryDeriver(database.summaries(), watch::relearn, () -> 0);
    int rounds = 0;
    while (figures.deriveOutdated() + calibrations.deriveOutdated() + summaries.deriveOutdated() > 0
        && rounds++ < 20) {
      continue;
    }
  }

  List<Soak> soaks(String tracker) {
    try (SoakStore.Reader reader = database.soakStore().reader()) {
      return reader.soaks(tracker, Long.MIN_VALUE);
    }
  }

  Soak newest(String tracker) {
    List<Soak> all = soaks(tracker);
    return all.get(all.size() - 1);
  }

  long samples(Soak soak) {
    try (SoakStore.Reader reader = database.soakStore().reader()) {
      return reader.countSamples(
          soak.tracker(), soak.startUs(), (soak.endSecond() + 1) * 1_000_000L);
    }
  }

  /** How many samples of its soaks are stored, by start. */
  List<Long> kept(String tracker) {
    return soaks(tracker).stream().map(this::samples).toList();
  }

  /** All that is derived of a tracker, row by row; of a soak all but whether it has its samples. */
  List<String> derived(String tracker) {
    List<String> all = new ArrayList<>();
    for (String sql :
        List.of(
            "SELECT concat_ws(' ', id, start_time, end_time, samples, ended) FROM soak s",
            "SELECT t::text FROM timeline t JOIN soak s ON s.id = t.soak",
            "SELECT t::text FROM soak_terms t JOIN soak s ON s.id = t.soak",
            "SELECT d::text FROM derived d JOIN soak s ON s.id = d.soak",
            "SELECT s::text FROM bin s")) {
      all.addAll(texts(sql + " WHERE s.tracker = ? ORDER BY 1", tracker));
    }
    return all;
  }

  private List<String> texts(String sql, Object... values) {
    try (Connection c = connect()) {
      return Query.list(c, rows -> rows.getString(1), sql, values);
    } catch (SQLException e) {
      throw new AssertionError(e);
    }
  }

  void execute(String sql, Object... values) {
    try (Connection c = connect()) {
      Query.change(c, sql, values);
    } catch (SQLException e) {
      throw new AssertionError(e);
    }
  }

  /** All soaks of now were stored as long ago as they were measured. */
  void storedWhenMeasured() {
    execute("UPDATE soak SET stored = start_time");
  }

  Connection connect() throws SQLException {
    return ServerAddress.of(settings).dataSource(60).getConnection();
  }

  /** Keeps samples for so many days from now on, and removes what is older then. */
  int pass(int days, Instant now) {
    database.retention().keepDays(days);
    return database.retention().pass(now, watch::alone);
  }

  @Override
  public void close() {
    database.close();
  }
}
