package soakbench.store.derived;

import static org.assertj.core.api.Assertions.assertThat;

import java.sql.Connection;
import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import soakbench.live.SoakStore.Unit;
import soakbench.lots.SoakFigures;
import soakbench.lots.TrackerFigures;
import soakbench.model.Limits;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.model.Tracker;
import soakbench.model.Tracker.Power;
import soakbench.model.Tracker.Rates;
import soakbench.store.Database;
import soakbench.store.SharedServer;
import soakbench.store.connection.Query;
import soakbench.store.derived.UnitFigures.Asked;
import soakbench.store.server.DatabaseSettings;

/** Figures of all trackers are kept in memory and yet never older than their rows. */
@Timeout(60)
class UnitFiguresTest {
  private static final long START_US = 1_772_352_000_000_000L;

  private static DatabaseSettings settings;
  private static Database database;

  @BeforeAll
  static void open() {
    settings = SharedServer.empty();
    database = Database.open(settings);
  }

  @AfterAll
  static void close() {
    database.close();
  }

  private static Soak soak(String tracker, int nth, Soak.End ended) {
    long startUs = START_US + nth * 86_400_000_000L;
    Soak soak = new Soak(tracker + "@" + nth, tracker, startUs, startUs + 60_000_000L, 600, ended);
    write(soak);
    keep(soak, "too short, as derived first");
    return soak;
  }

  private static void write(Soak soak) {
    try (Unit unit = database.soakStore().begin()) {
      unit.writeSoak(soak);
      unit.writeTerms(soak.id(), SoakTerms.of(Limits.DEFAULT));
      unit.commit();
    }
  }

  private static void keep(Soak soak, String reason) {
    var store = database.figures();
    SoakFigures none = SoakFigures.unknown(31, reason);
    assertThat(store.put(store.input(soak.id()).orElseThrow(), 1, none, false)).isTrue();
  }

  private static TrackerFigures figures(String tracker) {
    return database.unitFigures().of(Asked.tracker(tracker)).get(0).figures();
  }

  private static String reason(String tracker) {
    return figures(tracker).axes().get(0).bias().biasDps().reason();
  }

  @Test
  void whatIsDerivedAnewLeftOutOrTakenInShowsInTheNextCall() {
    Soak first = soak("moor-1", 1, Soak.End.SILENCE);
    Soak second = soak("moor-1", 2, Soak.End.SILENCE);
    assertThat(figures("moor-1").soaks().newest()).isEqualTo(second);
    keep(second, "too short, as derived again");
    assertThat(reason("moor-1")).isEqualTo("too short, as derived again");
    database.leftOut().put(second, "on a cold plate");
    assertThat(figures("moor-1").soaks().leftOut()).isEqualTo(1);
    assertThat(figures("moor-1").soaks().newest()).isEqualTo(first);
    database.leftOut().remove(second);
    assertThat(figures("moor-1").soaks().leftOut()).isZero();
    assertThat(figures("moor-1").soaks().newest()).isEqualTo(second);
    try (Unit unit = database.soakStore().begin()) {
      unit.deleteSoak(second.id());
      unit.commit();
    }
    assertThat(figures("moor-1").soaks().count()).isEqualTo(1);
  }

  @Test
  void whatAnotherProgramWritesShowsToo() throws Exception {
    soak("moor-2", 1, Soak.End.SILENCE);
    assertThat(reason("moor-2")).isEqualTo("too short, as derived first");
    try (Connection other = SharedServer.connect(settings)) {
      Query.change(
          other,
          "UPDATE derived SET content = replace(content::text, 'first', 'elsewhere')::jsonb"
              + " WHERE soak = 'moor-2@1'");
    }
    assertThat(reason("moor-2")).isEqualTo("too short, as derived elsewhere");
  }

  @Test
  void anOpenSoakIsToldAsItStandsNow() {
    Soak open = soak("moor-3", 1, null);
    assertThat(figures("moor-3").soaks().newest().samples()).isEqualTo(600);
    write(open.withSamples(640));
    assertThat(figures("moor-3").soaks().newest().samples()).isEqualTo(640);
  }

  @Test
  void theyAreAskedByLotRackAndPlaceInTheList() {
    for (String id : List.of("fen-1", "fen-2", "fen-3")) {
      soak(id, 1, Soak.End.SILENCE);
      String rack = id.equals("fen-2") ? "shelf" : "bench";
      database
          .roster()
          .put(new Tracker(id, id, "fen", "", "", rack, "", Power.UNKNOWN, Rates.UNKNOWN, 0, ""));
    }
    assertThat(ids(Asked.lot("fen"))).containsExactly("fen-1", "fen-2", "fen-3");
    assertThat(ids(Asked.page("fen", "bench", null, 9))).containsExactly("fen-1", "fen-3");
    assertThat(ids(Asked.page("fen", null, "fen-1", 1))).containsExactly("fen-2");
    assertThat(ids(Asked.lot("nowhere"))).isEmpty();
    assertThat(ids(Asked.lots(List.of("nowhere", "fen")))).hasSize(3);
  }

  private static List<String> ids(Asked asked) {
    return database.unitFigures().of(asked).stream().map(u -> u.figures().tracker()).toList();
  }
}
