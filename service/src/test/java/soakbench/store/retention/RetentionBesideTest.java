package soakbench.store.retention;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;
import static soakbench.store.retention.KeptStore.DAY_US;
import static soakbench.store.retention.KeptStore.START_US;
import static soakbench.store.retention.KeptStore.at;

import java.sql.Connection;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import soakbench.model.RackSet;
import soakbench.store.SharedServer;
import soakbench.store.connection.Query;
import soakbench.store.server.DatabaseSettings;

/** Two services remove old samples from one database, each for racks of its own. */
@Timeout(120)
class RetentionBesideTest {
  private static final RackSet RACK_A = RackSet.of(List.of("A"));
  private static final Instant LATER = at(35 * DAY_US);

  private static KeptStore ofA;
  private static KeptStore ofC;

  @BeforeAll
  static void open() {
    DatabaseSettings settings = SharedServer.empty();
    ofA = new KeptStore(settings, RACK_A);
    ofC = new KeptStore(settings, RackSet.of(List.of("C", "-")));
  }

  @AfterAll
  static void close() {
    ofA.close();
    ofC.close();
  }

  private static void put(String tracker, String rack) {
    ofA.execute(
        "INSERT INTO tracker (id, name, lot, imu, board, rack, slot, power, rates,"
            + " temperature_offset_c, note) VALUES (?, '', '', '', '', ?, '', 'unknown', 'unknown',"
            + " 0, '') ON CONFLICT (id) DO UPDATE SET rack = EXCLUDED.rack",
        tracker,
        rack);
  }

  private static void soak(KeptStore of, String tracker, String rack) {
    put(tracker, rack);
    of.soak(tracker, 0);
    of.storedWhenMeasured();
  }

  @Test
  void eachMarksAndRemovesWhatLiesOnItsRacks() throws Exception {
    soak(ofA, "A-1", "A");
    soak(ofC, "C-1", "C");
    soak(ofC, "N-1", "");
    assertThat(ofA.pass(30, LATER)).isEqualTo(1);
    assertThat(ofA.kept("A-1")).containsExactly(0L);
    assertThat(ofA.kept("C-1")).containsExactly(60L);
    assertThat(ofA.database.retention().preview(30, LATER).going().soaks()).isEqualTo(2);
    assertThat(ofC.pass(30, LATER)).isEqualTo(2);
    assertThat(ofC.kept("C-1")).containsExactly(0L);
    assertThat(ofC.kept("N-1")).containsExactly(0L);
  }

  @Test
  void aSoakWhoseTrackerIsMovedBeforeItIsMarkedIsLeftToTheOther() throws Exception {
    soak(ofA, "A-2", "A");
    OldSoaks old = new OldSoaks(RACK_A);
    try (Connection c = ofA.connect()) {
      List<String> found = old.find(c, LATER, 9);
      assertThat(found).containsExactly(ofA.newest("A-2").id());
      put("A-2", "C");
      assertThat(old.mark(c, LATER, found)).isZero();
    }
    assertThat(ofC.pass(30, LATER)).isEqualTo(1);
  }

  @Test
  void whatOneDroppedTheOtherTakesNoMoreOnceTheTrackerIsMovedToIt() {
    soak(ofA, "A-3", "A");
    DroppedSamples atC = ofC.database.retention().dropped();
    assertThat(atC.refusal("A-3", START_US)).isNull();
    assertThat(ofA.pass(30, LATER)).isEqualTo(1);
    put("A-3", "C");
    await()
        .atMost(Duration.ofSeconds(20))
        .untilAsserted(() -> assertThat(atC.refusal("A-3", START_US)).contains("were dropped on"));
  }

  @Test
  void aStretchThatOneIsRemovingIsNotTakenByTheOther() throws Exception {
    soak(ofA, "A-4", "A");
    try (Connection one = ofA.connect();
        Connection other = ofA.connect()) {
      new OldSoaks(RACK_A).mark(one, LATER, List.of(ofA.newest("A-4").id()));
      one.setAutoCommit(false);
      assertThat(SampleRemoval.piece(one, Instant.parse("9999-01-01T00:00:00Z"))).contains(60);
      Query.change(other, "SET statement_timeout = '10s'");
      assertThat(SampleRemoval.piece(other, Instant.parse("9999-01-01T00:00:00Z"))).isEmpty();
      one.rollback();
      assertThat(SampleRemoval.piece(other, Instant.parse("9999-01-01T00:00:00Z"))).contains(60);
    }
  }
}
