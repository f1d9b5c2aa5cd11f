package soakbench.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import soakbench.live.SoakStore.Unit;
import soakbench.live.StoreException;
import soakbench.model.Tracker;
import soakbench.store.Roster.Changes;

class RosterTest {
  private static Database database;
  private static Roster roster;

  @BeforeAll
  static void open() {
    database = Database.open(SharedServer.empty());
    roster = database.roster();
  }

  @AfterAll
  static void close() {
    database.close();
  }

  @Test
  void aTrackerComesBackAsItWasPut() {
    Tracker tracker = tracker("put-1", "left hip", 0.1 + 0.2);
    roster.put(tracker);
    assertThat(roster.find("put-1")).contains(tracker);
    assertThat(roster.all()).contains(tracker);
    Tracker renamed = tracker("put-1", "right hip, \"odd\" 'ä'", -1);
    roster.put(renamed);
    assertThat(roster.find("put-1")).contains(renamed);
  }

  @Test
  void changesAreTold() {
    roster.put(tracker("told-1", "same", 0));
    roster.put(tracker("told-2", "old", 0));
    List<Tracker> list =
        List.of(
            tracker("told-1", "same", 0), tracker("told-2", "new", 0), Tracker.unknown("told-3"));
    Changes expected = new Changes(List.of("told-3"), List.of("told-2"), List.of("told-1"));
    assertThat(roster.putAll(list, true)).isEqualTo(expected);
    assertThat(roster.find("told-3")).isEmpty();
    assertThat(roster.find("told-2").orElseThrow().name()).isEqualTo("old");
    assertThat(roster.putAll(list, false)).isEqualTo(expected);
    assertThat(roster.find("told-3")).isPresent();
    assertThat(roster.find("told-2").orElseThrow().name()).isEqualTo("new");
  }

  @Test
  void oneThatCannotBeWrittenKeepsAllOut() {
    List<Tracker> list = List.of(Tracker.unknown("whole-1"), tracker("whole-2", "a\0b", 0));
    assertThatThrownBy(() -> roster.putAll(list, false)).isInstanceOf(StoreException.class);
    assertThat(roster.find("whole-1")).isEmpty();
  }

  @Test
  void anIdThatComesTwiceIsRefused() {
    List<Tracker> list = List.of(Tracker.unknown("twice"), tracker("twice", "other", 0));
    assertThatThrownBy(() -> roster.putAll(list, false))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessage("tracker twice is listed twice; keep one of the two");
  }

  @Test
  void aTrackerThatWasOnlyHeardIsNotListed() {
    try (Unit unit = database.soakStore().begin()) {
      unit.writeSamples(Samples.samples("heard", 0, 5));
      unit.commit();
    }
    database.archive().samples("heard", 0, Long.MAX_VALUE, sample -> {});
    assertThat(roster.find("heard")).isEmpty();
  }

  private static Tracker tracker(String id, String name, double offsetC) {
    return new Tracker(
        id,
        name,
        "lot A",
        "imu",
        "board",
        "rack",
        "3",
        Tracker.Power.BATTERY,
        Tracker.Rates.RAW,
        offsetC,
        "note");
  }
}
