package soakbench.store.derived;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import soakbench.live.SoakStore.Unit;
import soakbench.live.SoakSummary;
import soakbench.live.deriving.DerivationInput;
import soakbench.live.deriving.DerivedStore;
import soakbench.model.Estimate;
import soakbench.model.Limits;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.model.Tracker;
import soakbench.model.Tracker.Power;
import soakbench.model.Tracker.Rates;
import soakbench.readiness.Calibration;
import soakbench.store.Database;
import soakbench.store.connection.Query;
import soakbench.store.server.DatabaseSettings;
import soakbench.store.server.KillableServer;

/** Rows of what is derived: when one is due, and what is kept. */
@Timeout(60)
class DerivedStoreTest {
  private static final long START_US = 1_772_352_000_000_000L;

  @TempDir static Path folder;
  private static KillableServer server;
  private static Database database;
  private static int trackers;

  private final String tracker = "shelf-" + trackers++;

  @BeforeAll
  static void open() {
    server = new KillableServer(folder);
    database = Database.open(DatabaseSettings.url(server.url()));
  }

  @AfterAll
  static void close() throws IOException {
    database.close();
    server.close();
  }

  private Soak soak(int nth, int lengthS, Soak.End ended) {
    long startUs = START_US + nth * 86_400_000_000L;
    long endUs = startUs + lengthS * 1_000_000L;
    Soak soak = new Soak(tracker + "@" + nth, tracker, startUs, endUs, 10L * lengthS, ended);
    try (Unit unit = database.soakStore().begin()) {
      unit.writeSoak(soak);
      unit.writeTerms(soak.id(), SoakTerms.of(Limits.DEFAULT));
      unit.commit();
    }
    return soak;
  }

  private List<String> due(DerivedStore<?> store, int version) {
    return store.outdated(version, 100, Set.of()).stream()
        .filter(s -> s.startsWith(tracker + "@"))
        .toList();
  }

  private static void keep(Soak soak, int version, boolean waits) {
    DerivedStore<List<Calibration>> store = database.calibrations();
    assertThat(store.put(store.input(soak.id()).orElseThrow(), version, List.of(), waits)).isTrue();
  }

  private static void age(Soak soak) throws SQLException {
    try (Connection connection = server.connect()) {
      Query.change(
          connection,
          "UPDATE derived SET derived_at = now() - interval '1 h' WHERE soak = ?",
          soak.id());
    }
  }

  private static SoakSummary.Thermal plateau(double celsius) {
    return new SoakSummary.Thermal(Estimate.of(celsius, 0.1, 1.96), List.of(), List.of());
  }

  private void write(Soak soak, double plateauC) {
    try (Unit unit = database.soakStore().begin()) {
      unit.writeSummary(SoakSummary.of(soak, plateau(plateauC)));
      unit.commit();
    }
  }

  private static double plateauC(Soak soak) {
    return database.summaries().find(soak.id()).orElseThrow().plateauC().value();
  }

  @Test
  void aSoakIsDueUntilItIsKeptAndForEveryOtherVersion() {
    Soak soak = soak(0, 60, Soak.End.SILENCE);
    assertThat(due(database.calibrations(), 1)).containsExactly(soak.id());
    assertThat(database.calibrations().find(soak.id())).isEmpty();
    keep(soak, 1, false);
    assertThat(database.calibrations().find(soak.id())).contains(List.of());
    assertThat(due(database.calibrations(), 1)).isEmpty();
    try (Database other = Database.prepared(DatabaseSettings.url(server.url()))) {
      other.openToRead(step -> {});
      assertThat(due(other.calibrations(), 1)).isEmpty();
    }
    try (Database newer = Database.prepared(DatabaseSettings.url(server.url()))) {
      newer.openToRead(step -> {});
      assertThat(due(newer.calibrations(), 2)).containsExactly(soak.id());
    }
  }

  @Test
  void whatARowRestsOnMakesItDueWhenItIsAnother() {
    Soak soak = soak(1, 60, Soak.End.SILENCE);
    keep(soak, 1, false);
    due(database.calibrations(), 1);
    database
        .roster()
        .put(new Tracker(tracker, null, "", "", "", "", "", Power.USB, Rates.RAW, 0, ""));
    assertThat(due(database.calibrations(), 1)).containsExactly(soak.id());
    keep(soak, 1, false);
    database.calibrationReports().report(tracker, soak.startUs() + 1_000_000, true);
    soak(1, 60, Soak.End.SILENCE);
    assertThat(due(database.calibrations(), 1)).containsExactly(soak.id());
    keep(soak, 1, false);
    soak(0, 60, Soak.End.COOLER_REBOOT);
    assertThat(due(database.calibrations(), 1)).contains(soak.id());
  }

  @Test
  void moreThatIsHeardMakesOnlyWhatWaitsDueAndOnlyAfterAWhile() throws Exception {
    Soak soak = soak(0, 60, null);
    keep(soak, 1, false);
    soak(0, 90, null);
    age(soak);
    assertThat(due(database.calibrations(), 1)).as("decided").isEmpty();
    keep(soak, 1, true);
    soak(0, 120, null);
    age(soak);
    assertThat(due(database.calibrations(), 1)).containsExactly(soak.id());
    keep(soak, 1, true);
    age(soak);
    assertThat(due(database.calibrations(), 1)).as("nothing more is heard").isEmpty();
  }

  @Test
  void nothingIsKeptOfASoakThatIsGone() {
    Soak soak = soak(0, 60, Soak.End.SILENCE);
    DerivationInput input = database.calibrations().input(soak.id()).orElseThrow();
    try (Unit unit = database.soakStore().begin()) {
      unit.deleteSoak(soak.id());
      unit.commit();
    }
    assertThat(database.calibrations().put(input, 1, List.of(), false)).isFalse();
    assertThat(database.calibrations().find(soak.id())).isEmpty();
    assertThat(database.calibrations().input(soak.id())).isEmpty();
  }

  @Test
  void aSoakIsToldWithTheOneBeforeItAndItsTerms() {
    Soak first = soak(0, 60, Soak.End.SILENCE);
    Soak second = soak(1, 60, null);
    DerivationInput input = database.figures().input(second.id()).orElseThrow();
    assertThat(input.soak()).isEqualTo(second);
    assertThat(input.before()).isEqualTo(first);
    assertThat(input.terms()).isEqualTo(SoakTerms.of(Limits.DEFAULT));
    assertThat(input.rates()).isEqualTo(Rates.UNKNOWN);
    assertThat(database.figures().input(first.id()).orElseThrow().before()).isNull();
  }

  @Test
  void whatTheWriterKeptForLaterSoaksIsNeverReplacedByWhatWasDerivedOfTheSoakBefore() {
    Soak soak = soak(0, 60, Soak.End.SILENCE);
    write(soak, 30);
    DerivationInput input = database.summaries().input(soak.id()).orElseThrow();
    soak(0, 90, Soak.End.SILENCE);
    write(soak, 31);
    assertThat(database.summaries().put(input, 2, plateau(29), false)).isFalse();
    assertThat(plateauC(soak)).isEqualTo(31);
    DerivationInput now = database.summaries().input(soak.id()).orElseThrow();
    assertThat(database.summaries().put(now, 2, plateau(32), false)).isTrue();
    assertThat(plateauC(soak)).isEqualTo(32);
  }

  @Test
  void whatIsKeptForLaterSoaksIsNotDerivedOfOneThatGoesOn() {
    Soak open = soak(0, 60, null);
    write(open, 30);
    assertThat(database.summaries().input(open.id())).isEmpty();
    assertThat(due(database.summaries(), 9)).isEmpty();
  }
}
