package soakbench.store.retention;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static soakbench.store.retention.KeptStore.DAY_US;
import static soakbench.store.retention.KeptStore.S;
import static soakbench.store.retention.KeptStore.at;
import static soakbench.store.retention.KeptStore.seconds;

import java.sql.Connection;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.TimeZone;
import java.util.function.Supplier;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.condition.DisabledIfSystemProperty;
import soakbench.live.SoakStore.Moved;
import soakbench.live.StoreException;
import soakbench.live.watch.Merging;
import soakbench.model.RackSet;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.store.SharedServer;

/** Samples that are older than they are kept go; what was derived from them stays. */
@Timeout(120)
class SampleRetentionTest {
  private static KeptStore store;
  private static int trackers;

  private final String tracker = "kept-" + trackers++;

  @BeforeAll
  static void open() {
    store = new KeptStore(SharedServer.empty());
  }

  @AfterAll
  static void close() {
    store.close();
  }

  private List<Long> kept() {
    return store.kept(tracker);
  }

  private void threeSoaks() {
    store.soak(tracker, 0);
    store.soak(tracker, DAY_US);
    store.soak(tracker, 40 * DAY_US);
    store.storedWhenMeasured();
  }

  @Test
  void oldSamplesGoAndNothingThatWasDerivedFromThemChanges() {
    threeSoaks();
    List<String> before = store.derived(tracker);
    assertThat(before).hasSizeGreaterThan(180);
    store.pass(30, at(35 * DAY_US));
    assertThat(kept()).containsExactly(0L, 0L, 60L);
    assertThat(store.soaks(tracker))
        .extracting(Soak::samplesKept)
        .containsExactly(false, false, true);
    store.restart();
    store.derive();
    assertThat(store.derived(tracker)).isEqualTo(before);
    assertThat(store.pass(30, at(35 * DAY_US))).isZero();
    assertThat(store.derived(tracker)).isEqualTo(before);
  }

  @Test
  void theyAreKeptForGoodUnlessItIsSet() {
    threeSoaks();
    SampleRetention unset = new SampleRetention(null, RackSet.ALL);
    assertThat(unset.pass(at(3_650 * DAY_US), store.watch::alone)).isZero();
    assertThat(unset.days()).isEmpty();
    assertThat(kept()).containsExactly(60L, 60L, 60L);
    assertThatThrownBy(() -> unset.keepDays(6)).hasMessageContaining("7 to 36500 days, not 6");
  }

  @Test
  void whatIsToldBeforeIsJustWhatGoes() {
    store.pass(30, at(-300 * DAY_US));
    threeSoaks();
    Instant now = at(35 * DAY_US);
    store.pass(30, at(0));
    Preview.Soaks gone = store.database.retention().gone();
    Preview told = store.database.retention().preview(30, now);
    assertThat(told.going().soaks()).isGreaterThanOrEqualTo(2);
    assertThat(store.pass(30, now)).isEqualTo((int) told.going().soaks());
    Preview.Soaks after = store.database.retention().gone();
    assertThat(after.soaks() - gone.soaks()).isEqualTo(told.going().soaks());
    assertThat(after.samples() - gone.samples()).isEqualTo(told.going().samples());
    assertThat(store.database.retention().preview(30, now).going()).isEqualTo(Preview.Soaks.NONE);
    assertThat(store.database.retention().waiting()).isZero();
  }

  @Test
  @DisabledIfSystemProperty(
      named = "soakbench.test.shared",
      matches = ".+",
      disabledReason = "what is left of a chunk goes two chunks later (GivenRetentionTest)")
  void aSoakOverMidnightAndOneOverAChangeOfTheClocksGoByTheirLastSampleAndWholeDays() {
    store.soak(tracker, 0);
    assertThat(at(0).toString()).isEqualTo("2026-03-01T22:59:30Z");
    store.storedWhenMeasured();
    TimeZone home = TimeZone.getDefault();
    try {
      // Midnight in the workshop lies within it, and on March 29 its clocks go forward.
      TimeZone.setDefault(TimeZone.getTimeZone("Europe/Vienna"));
      store.restart();
      store.pass(30, at(30 * DAY_US + 59 * S));
      assertThat(kept()).containsExactly(60L);
      store.pass(30, at(30 * DAY_US + 60 * S));
      assertThat(kept()).containsExactly(0L);
    } finally {
      TimeZone.setDefault(home);
    }
  }

  @Test
  void anOpenSoakOfThreeWeeksKeepsAllItsSamples() {
    List<Sample> threeWeeks = new ArrayList<>();
    for (int i = 0; i < 21 * 144; i++) {
      threeWeeks.addAll(seconds(tracker, i * 590 * S, 0, 1));
    }
    store.watch.accept(threeWeeks);
    store.derive();
    store.storedWhenMeasured();
    assertThat(store.newest(tracker).open()).isTrue();
    store.pass(7, at(21 * DAY_US));
    store.pass(7, at(400 * DAY_US));
    assertThat(store.samples(store.newest(tracker))).isGreaterThan(21 * 144 - 5);
    store.watch.end(store.newest(tracker).id());
    store.pass(7, at(400 * DAY_US));
    assertThat(store.newest(tracker).samplesKept())
        .as("its figures are those of an open one")
        .isTrue();
    store.derive();
    store.pass(7, at(400 * DAY_US));
    assertThat(kept()).containsExactly(0L);
  }

  @Test
  void aSoakWhoseFiguresAreNotUpToDateOrThatWaitsForLateSamplesKeepsThem() {
    threeSoaks();
    store.execute(
        "UPDATE derived SET version = version - 1 WHERE kind = 'figures' AND soak = ?",
        store.soaks(tracker).get(0).id());
    store.execute(
        "DELETE FROM derived WHERE kind = 'calibrations' AND soak = ?",
        store.soaks(tracker).get(1).id());
    Instant now = at(35 * DAY_US);
    store.pass(30, now);
    assertThat(kept()).containsExactly(60L, 60L, 60L);
    assertThat(store.database.retention().preview(30, now).held().soaks()).isEqualTo(2);
    store.restart();
    store.derive();
    store.watch.accept(seconds(tracker, 300_000, 30, 31));
    store.pass(30, now);
    assertThat(kept()).as("a late sample waits").containsExactly(61L, 60L, 60L);
    store.watch.settle();
    store.derive();
    store.pass(30, now);
    assertThat(kept()).containsExactly(0L, 0L, 60L);
    assertThat(store.soaks(tracker).get(0).samples()).isEqualTo(61);
  }

  @Test
  void aRecordingBroughtInTodayIsKeptAsLongAsWhatIsMeasuredToday() {
    store.soak(tracker, 0);
    Instant now = Instant.now();
    assertThat(now).isAfter(at(30 * DAY_US));
    store.pass(30, now.plus(Duration.ofDays(29)));
    assertThat(kept()).containsExactly(60L);
    store.pass(30, now.plus(Duration.ofDays(31)));
    assertThat(kept()).containsExactly(0L);
  }

  @Test
  void aPassThatDiesAfterItHasMarkedOrBetweenTwoPiecesIsTakenUpAfterARestart() throws Exception {
    threeSoaks();
    // So many that it takes three pieces.
    store.execute(
        "INSERT INTO sample (time, tracker, temperature_c, temperature_held)"
            + " SELECT to_timestamp(?::float8 / 1e6) + g * interval '1 ms', ?, 25, false"
            + " FROM generate_series(1, 45000) g WHERE g % 1000 <> 0",
        KeptStore.START_US, tracker);
    List<String> before = store.derived(tracker);
    store.database.retention().keepDays(30);
    assertThatThrownBy(() -> store.database.retention().pass(at(35 * DAY_US), new Killed()))
        .hasMessage("killed");
    store.restart();
    assertThat(store.database.retention().waiting()).isEqualTo(2);
    assertThat(store.derived(tracker)).isEqualTo(before);
    try (Connection c = store.connect()) {
      c.setAutoCommit(false);
      assertThat(SampleRemoval.piece(c, at(100 * DAY_US))).hasValue(20_000);
      c.commit();
      assertThat(SampleRemoval.piece(c, at(100 * DAY_US))).hasValue(20_000);
      c.rollback();
    }
    assertThat(store.samples(store.soaks(tracker).get(0))).isEqualTo(45_015 - 20_000);
    store.pass(30, at(35 * DAY_US));
    assertThat(store.database.retention().waiting()).isZero();
    assertThat(kept()).containsExactly(0L, 0L, 60L);
    assertThat(store.derived(tracker)).isEqualTo(before);
  }

  /** Dies when the first soaks are marked. */
  private static final class Killed implements SampleRetention.Alone {
    @Override
    public <T> T run(Supplier<T> work) {
      work.get();
      throw new StoreException("killed", null, true);
    }
  }

  @Test
  void aLateSampleOfADroppedSoakIsRefusedWithTheReasonAndItsNeighboursAreTaken() {
    threeSoaks();
    store.pass(30, at(35 * DAY_US));
    List<String> before = store.derived(tracker);
    DroppedSamples dropped = store.database.retention().dropped();
    long startUs = store.soaks(tracker).get(0).startUs();
    assertThat(dropped.refusal(tracker, startUs + 30 * S))
        .contains(tracker + "'s soak of 2026-03-01T22:59:30Z", "dropped on ", "taken no more");
    assertThat(dropped.refusal(tracker, startUs)).isNotNull();
    assertThat(dropped.refusal(tracker, startUs - 1)).isNull();
    assertThat(dropped.refusal(tracker, startUs + 61 * S)).isNull();
    assertThat(dropped.refusal(tracker, startUs + 40 * DAY_US)).isNull();
    assertThat(dropped.refusal("another", startUs)).isNull();
    assertThat(dropped.refused()).isPositive();
    // What does not come by a line: stored in another soak, it changes nothing of this one.
    store.watch.accept(seconds(tracker, 40 * DAY_US + 300_000, 30, 31));
    store.watch.settle();
    assertThat(store.soaks(tracker)).extracting(Soak::samples).containsExactly(60L, 60L, 61L);
    assertThat(store.derived(tracker)).containsAll(before.subList(0, 2));
  }

  @Test
  void givenToAnotherTrackerADroppedSoakStaysAsItWasDerived() {
    String other = tracker + "-right";
    threeSoaks();
    store.soak(other, 30 * S);
    store.soak(other, DAY_US + 300 * S);
    store.storedWhenMeasured();
    store.pass(30, at(35 * DAY_US));
    Merging merging = store.watch.merge(tracker, other).orElseThrow();
    Optional<Moved> moved;
    do {
      moved = store.watch.mergeNext(merging);
    } while (moved.isPresent());
    store.watch.settle();
    // One lies at the time of the other's: a second has one bin.
    assertThat(store.soaks(tracker)).extracting(Soak::samples).containsExactly(60L);
    assertThat(store.soaks(other)).extracting(Soak::samples).containsExactly(60L, 60L, 60L, 60L);
    assertThat(store.soaks(other))
        .extracting(Soak::samplesKept)
        .containsExactly(false, false, false, true);
  }
}
