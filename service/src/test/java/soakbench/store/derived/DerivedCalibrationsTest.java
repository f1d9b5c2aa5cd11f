package soakbench.store.derived;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import soakbench.live.SoakStore.Unit;
import soakbench.live.deriving.DerivationInput;
import soakbench.model.Estimate;
import soakbench.model.Limits;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.model.Tracker.Rates;
import soakbench.readiness.Calibration;
import soakbench.readiness.Calibration.Origin;
import soakbench.readiness.Calibration.Status;
import soakbench.readiness.CalibrationCheck;
import soakbench.readiness.CalibrationCheck.Verdict;
import soakbench.store.Database;
import soakbench.store.SharedServer;
import soakbench.store.connection.Pools;
import soakbench.store.connection.Query;
import soakbench.store.server.DatabaseSettings;
import soakbench.store.server.ServerAddress;

@Timeout(60)
class DerivedCalibrationsTest {
  private static DatabaseSettings settings;
  private static Database database;
  private static Pools pools;
  private final DirtySoaks notes = new DirtySoaks();

  @BeforeAll
  static void open() throws SQLException {
    settings = SharedServer.empty();
    database = Database.open(settings);
    pools = new Pools();
    pools.open(ServerAddress.of(settings), null);
    // Checked in its first soak, asked about in its second, where an undone one is the newest.
    keep("A-1", 0, mark(10, Status.MARK, true), mark(30, Status.MARK, true));
    keep("A-1", 100, mark(110, Status.QUESTION, false), mark(120, Status.UNDONE, false));
    keep("A-1", 200);
    keep("B-1", 0, mark(5, Status.UNDONE, false), mark(7, Status.UNDONE, false));
    keep("C-1", 0);
    keep("D-1", 0, mark(1, Status.MARK, true));
    keep("D-1", 100, mark(101, Status.MARK, true));
    unreadable("D-1@0");
  }

  @AfterAll
  static void close() throws IOException {
    pools.close();
    database.close();
  }

  @Test
  void theNewestThatCountsIsToldOfEveryTrackerThatHasOne() {
    assertThat(told(marks().newest(false))).containsExactly("A-1 110 QUESTION", "D-1 101 MARK");
  }

  @Test
  void whoHasNoneThatCountsIsToldWithItsNewestUndoneOneWhenAsked() {
    assertThat(told(marks().newest(true)))
        .containsExactly("A-1 110 QUESTION", "B-1 7 UNDONE", "D-1 101 MARK");
  }

  @Test
  void theNewestCheckedOneIsToldAlthoughNewerOnesHaveNoCheck() {
    assertThat(marks().newestChecked().get("A-1").atUs()).isEqualTo(30);
    assertThat(marks().newestChecked()).doesNotContainKeys("B-1", "C-1");
  }

  @Test
  void allOfATrackerComeNewestFirstUndoneOnesToo() {
    assertThat(told(marks().of("A-1")))
        .containsExactly("A-1 120 UNDONE", "A-1 110 QUESTION", "A-1 30 MARK", "A-1 10 MARK");
    assertThat(marks().of("nobody")).isEmpty();
  }

  /** Reads only what it tells. */
  @AfterEach
  void nothingUnreadableWasRead() {
    assertThat(notes.unreadable()).isEmpty();
  }

  @Test
  void marksThatCannotBeReadAreLeftOutAndNoted() {
    assertThat(told(marks().of("D-1"))).containsExactly("D-1 101 MARK");
    assertThat(notes.unreadable()).containsExactly("D-1@0");
    notes.readable("D-1@0");
  }

  private DerivedCalibrations marks() {
    return new DerivedCalibrations(pools, notes);
  }

  private static List<String> told(List<Calibration> marks) {
    return marks.stream().map(c -> c.tracker() + " " + c.atUs() + " " + c.status()).toList();
  }

  /** A mark of no tracker yet. */
  private static Calibration mark(long atUs, Status status, boolean checked) {
    Estimate none = Estimate.unknown("not measured");
    CalibrationCheck result =
        new CalibrationCheck(List.of(none, none, none), none, none, Verdict.KEEP, "good");
    Calibration.Check check =
        checked ? new Calibration.Check(atUs, atUs + 60, Rates.RAW, 31, result) : null;
    return new Calibration("", atUs, "", Origin.SEEN, status, null, null, check, null);
  }

  private static void keep(String tracker, long startUs, Calibration... marks) {
    Soak soak =
        new Soak(tracker + "@" + startUs, tracker, startUs, startUs + 90, 7, Soak.End.SILENCE);
    try (Unit unit = database.soakStore().begin()) {
      unit.writeSoak(soak);
      unit.writeTerms(soak.id(), SoakTerms.of(Limits.DEFAULT));
      unit.commit();
    }
    List<Calibration> its = List.of(marks).stream().map(m -> of(soak, m)).toList();
    database
        .calibrations()
        .put(
            new DerivationInput(
                soak,
                null,
                SoakTerms.of(Limits.DEFAULT),
                Rates.RAW,
                new DerivationInput.Basis("{}", "")),
            1,
            its,
            false);
  }

  private static Calibration of(Soak soak, Calibration m) {
    return new Calibration(
        soak.tracker(),
        m.atUs(),
        soak.id(),
        m.origin(),
        m.status(),
        null,
        null,
        m.check(),
        m.checkReason());
  }

  /** Makes the marks of a soak such that they can't be read: so it shows whether they are. */
  private static void unreadable(String soak) throws SQLException {
    try (Connection connection = SharedServer.connect(settings)) {
      Query.change(
          connection,
          "UPDATE derived SET content = jsonb_set(content, '{0,origin}', '\"DREAMT\"')"
              + " WHERE soak = ?",
          soak);
    }
  }
}
