package soakbench.store;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import soakbench.live.calibration.CalibrationDeriver;
import soakbench.live.figures.FigureDeriver;
import soakbench.live.figures.SummaryDeriver;
import soakbench.live.watch.SoakWatch;
import soakbench.model.LimitKey;
import soakbench.model.Limits;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.model.Tracker;
import soakbench.model.Tracker.Power;
import soakbench.model.Tracker.Rates;
import soakbench.store.connection.Query;
import soakbench.store.derived.DerivedKind;
import soakbench.store.server.DatabaseSettings;
import soakbench.store.server.KillableServer;

/** What is due is known when it changes, and found after a crash before it was derived. */
@Timeout(120)
class DueWorkTest {
  private static final long START_US = 1_772_352_000_000_000L;
  private static final long DAY_US = 86_400_000_000L;

  @TempDir static Path folder;
  private static KillableServer postgres;
  private static int trackers;

  private final String tracker = "due-" + trackers++;
  private Database database;
  private SoakWatch watch;

  @BeforeAll
  static void start() {
    postgres = new KillableServer(folder);
  }

  @AfterAll
  static void stop() throws Exception {
    postgres.close();
  }

  @BeforeEach
  void open() {
    database = Database.open(DatabaseSettings.url(postgres.url()));
    watch = new SoakWatch(database.soakStore(), Limits.DEFAULT, () -> 0);
    watch.restore();
  }

  @AfterEach
  void close() {
    database.close();
  }

  /** As a crash does: whatever was only in memory is lost. */
  private void crash() {
    database.close();
    open();
  }

  private void accept(long fromUs, int fromS, int toS) {
    List<Sample> all = new ArrayList<>();
    for (int s = fromS; s < toS; s++) {
      all.add(
          new Sample(
              tracker, fromUs + s * 1_000_000L, 25 + s / 1000f, false, 0.3f, 0, 0, 0, 0, 1, s, s));
    }
    watch.accept(all);
  }

  private void derive() {
    int tried;
    int rounds = 0;
    FigureDeriver figures = new FigureDeriver(database.figures());
    CalibrationDeriver calibrations =
        new CalibrationDeriver(database.calibrations(), database.calibrationReports());
    SummaryDeriver summaries = new SummaryDeriver(database.summaries(), watch::relearn, () -> 0);
    do {
      tried = figures.deriveOutdated() + calibrations.deriveOutdated() + summaries.deriveOutdated();
    } while (tried > 0 && rounds++ < 50);
    assertThat(tried).as("it comes to an end").isZero();
  }

  private List<String> dueFigures() {
    return own(database.figures().outdated(FigureDeriver.VERSION, 100, Set.of()));
  }

  private List<String> dueCalibrations() {
    return own(database.calibrations().outdated(CalibrationDeriver.VERSION, 100, Set.of()));
  }

  /** The other tests have trackers of their own. */
  private List<String> own(List<String> soaks) {
    return soaks.stream().filter(s -> s.startsWith(tracker + "@")).toList();
  }

  private String soak(int nth) {
    return database
        .archive()
        .soaks(new SoakQuery(tracker, null, null, null, null, null, 10))
        .stream()
        .sorted(Comparator.comparingLong(Soak::startUs))
        .toList()
        .get(nth)
        .id();
  }

  private void roster(Rates rates) {
    database
        .roster()
        .put(new Tracker(tracker, null, "", "", "", "", "", Power.UNKNOWN, rates, 0, ""));
  }

  private void twoEndedSoaks() {
    accept(START_US, 0, 60);
    watch.end(soak(0));
    accept(START_US + DAY_US, 0, 60);
    watch.end(soak(1));
    derive();
  }

  @Test
  void nothingIsAskedWhileNothingChanges() throws Exception {
    twoEndedSoaks();
    // A database that is gone is not missed.
    postgres.kill();
    try {
      for (int poll = 0; poll < 1000; poll++) {
        assertThat(dueFigures()).isEmpty();
        assertThat(dueCalibrations()).isEmpty();
        assertThat(database.summaries().outdated(SummaryDeriver.VERSION, 9, Set.of())).isEmpty();
      }
    } finally {
      postgres.restart();
    }
  }

  @Test
  void whatChangesASoakMakesItDueAtOnceAndAfterACrash() {
    twoEndedSoaks();
    for (int crashes = 0; crashes < 2; crashes++) {
      accept(START_US + 2 * DAY_US, crashes * 70, crashes * 70 + 60);
      watch.end(soak(2 + crashes));
      if (crashes > 0) {
        crash();
      }
      assertThat(dueFigures()).contains(soak(2 + crashes));
      assertThat(dueCalibrations()).contains(soak(2 + crashes));
      derive();
    }
  }

  @Test
  void whatIsToldOfItsRatesMakesAllItsSoaksDueAtOnceAndAfterACrash() {
    twoEndedSoaks();
    roster(Rates.RAW);
    assertThat(dueFigures()).containsExactlyInAnyOrder(soak(0), soak(1));
    assertThat(dueCalibrations()).containsExactlyInAnyOrder(soak(0), soak(1));
    derive();
    assertThat(dueFigures()).isEmpty();
    roster(Rates.FOLLOWS);
    crash();
    assertThat(dueFigures()).containsExactlyInAnyOrder(soak(0), soak(1));
    assertThat(dueCalibrations()).containsExactlyInAnyOrder(soak(0), soak(1));
  }

  @Test
  void aLateSampleMakesTheSoakAfterItsOwnDue() {
    accept(START_US, 0, 20);
    accept(START_US, 25, 40);
    accept(START_US, 45, 60);
    watch.end(soak(0));
    accept(START_US + DAY_US, 0, 60);
    watch.end(soak(1));
    derive();
    String before = row(soak(1));
    accept(START_US, 20, 25);
    watch.settle();
    assertThat(dueFigures()).containsExactlyInAnyOrder(soak(0), soak(1));
    derive();
    assertThat(row(soak(1))).isNotEqualTo(before);
    accept(START_US, 40, 45);
    watch.settle();
    crash();
    assertThat(dueFigures()).containsExactlyInAnyOrder(soak(0), soak(1));
  }

  private String row(String soak) {
    try (Connection c = postgres.connect()) {
      return Query.list(
              c,
              rows -> rows.getString(1),
              "SELECT basis->>'before' FROM derived WHERE kind = 'figures' AND soak = ?",
              soak)
          .get(0);
    } catch (SQLException e) {
      throw new AssertionError(e);
    }
  }

  @Test
  void whatWasSaidOfACalibrationJustBeforeACrashIsDerivedAfterIt() {
    twoEndedSoaks();
    database.calibrationReports().report(tracker, START_US + 30_000_000L, true);
    crash();
    assertThat(dueCalibrations()).containsExactly(soak(0));
    derive();
    assertThat(database.calibrationTable().of(tracker)).hasSize(1);
  }

  @Test
  void otherLimitsForASoakUnderWayMakeItDue() {
    accept(START_US, 0, 60);
    derive();
    double useC = Limits.DEFAULT.useTemperatureC() + 1;
    watch.change(l -> LimitKey.limits(other(useC)), true, false);
    assertThat(dueCalibrations()).containsExactly(soak(0));
    watch.change(l -> Limits.DEFAULT, true, false);
    watch.end(soak(0));
    derive();
  }

  private static Map<LimitKey, Double> other(double useC) {
    var all = new EnumMap<>(LimitKey.values(Limits.DEFAULT));
    all.put(LimitKey.USE_TEMPERATURE_C, useC);
    return all;
  }

  @Test
  void aSoakThatGoesOnIsLookedAtLaterAlthoughNothingMoreIsHeard() throws Exception {
    accept(START_US, 0, 60);
    derive();
    accept(START_US, 60, 70);
    assertThat(dueFigures()).as("derived a moment ago").isEmpty();
    try (Connection c = postgres.connect()) {
      Query.change(
          c, "UPDATE derived SET derived_at = now() - interval '61 s' WHERE soak = ?", soak(0));
    }
    assertThat(dueFigures()).containsExactly(soak(0));
    watch.end(soak(0));
    derive();
  }

  /** A day's work of a rack for years: an idle poll asks nothing, one change a few rows. */
  @Test
  @Tag("bench")
  void aPollOfEightThousandSoaksCostsLittle() throws Exception {
    try (Connection c = postgres.connect()) {
      Query.change(
          c,
          "INSERT INTO soak SELECT 'many-' || i % 100 || '@' || i, 'many-' || i % 100, now() - i *"
              + " interval '1 h', now() - i * interval '1 h' + interval '40 min', 24000, 'silence'"
              + " FROM generate_series(1, 8000) i");
      Query.change(
          c,
          "INSERT INTO soak_terms (soak, limits) SELECT id, '{}' FROM soak WHERE tracker LIKE"
              + " 'many-%'");
      for (DerivedKind kind : List.of(DerivedKind.FIGURES, DerivedKind.CALIBRATIONS)) {
        boolean marks = kind == DerivedKind.CALIBRATIONS;
        Query.change(
            c,
            "INSERT INTO derived (kind, soak, version, basis, heard, waits, content) SELECT ?,"
                + " s.id, ?, %s, %s, false, ?::jsonb%s WHERE s.tracker LIKE 'many-%%'"
                    .formatted(kind.basis(), kind.heard(), kind.from()),
            kind.word(),
            marks ? CalibrationDeriver.VERSION : FigureDeriver.VERSION,
            marks ? "[]" : "{}");
      }
      c.createStatement().execute("ANALYZE");
    }
    long allNs = timed(1);
    derive();
    long idleNs = timed(1000) / 1000;
    accept(START_US, 0, 60);
    long oneNs = timed(1);
    System.out.printf(
        "8,000 soaks: all compared %.1f ms, idle %.4f ms, one changed %.1f ms%n",
        allNs / 1e6, idleNs / 1e6, oneNs / 1e6);
    assertThat(idleNs).isLessThan(1_000_000);
    assertThat(oneNs).isLessThan(allNs);
  }

  private long timed(int polls) {
    long beforeNs = System.nanoTime();
    for (int poll = 0; poll < polls; poll++) {
      dueFigures();
      dueCalibrations();
    }
    return System.nanoTime() - beforeNs;
  }
}
