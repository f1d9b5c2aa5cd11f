package soakbench.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.List;
import java.util.OptionalLong;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import soakbench.live.LimitsOutcome;
import soakbench.live.SoakStore;
import soakbench.live.SomeLimits;
import soakbench.live.StoreException;
import soakbench.live.watch.Merging;
import soakbench.live.watch.SoakWatch;
import soakbench.model.LimitKey;
import soakbench.model.Limits;
import soakbench.model.RackSet;
import soakbench.model.Soak;
import soakbench.model.Tracker;
import soakbench.model.Tracker.Power;
import soakbench.model.Tracker.Rates;
import soakbench.store.server.DatabaseSettings;

/** Two that write to one database for racks of their own, where a tracker is moved between them. */
@Timeout(120)
class TwoWritersTest {
  private static final DatabaseSettings SETTINGS = SharedServer.empty();

  private Database ofA;
  private Database ofC;
  private SoakWatch atA;
  private SoakWatch atC;

  @BeforeEach
  void open() {
    ofA = writes(SETTINGS, "A");
    ofC = writes(SETTINGS, "C");
    atA = watch(ofA, "A");
    atC = watch(ofC, "C");
  }

  @AfterEach
  void close() {
    ofA.close();
    ofC.close();
  }

  private static Database writes(DatabaseSettings settings, String rack) {
    Database database = Database.prepared(settings, RackSet.of(List.of(rack)));
    database.openToWrite(step -> {});
    return database;
  }

  private static SoakWatch watch(Database database, String rack) {
    SoakWatch watch = new SoakWatch(database.soakStore(), null, () -> 0);
    watch.writesFor(RackSet.of(List.of(rack)));
    watch.restore();
    return watch;
  }

  private void put(String tracker, String rack) {
    ofC.roster()
        .put(new Tracker(tracker, "", "", "", "", rack, "", Power.UNKNOWN, Rates.UNKNOWN, 0, ""));
  }

  private Soak soak(String tracker) {
    atA.accept(Samples.samples(tracker, 0, 400));
    return only(tracker);
  }

  private Soak only(String tracker) {
    List<Soak> soaks = ofC.soakStore().reader().soaks(tracker, Long.MIN_VALUE);
    assertThat(soaks).hasSize(1);
    return soaks.get(0);
  }

  @Test
  void aSoakWhoseTrackerWasMovedAwayIsNotEndedByWhoHadIt() {
    put("A-1", "A");
    Soak soak = soak("A-1");
    put("A-1", "C");
    assertThat(atA.end(soak.id())).isEmpty();
    assertThat(only("A-1").open()).isTrue();
    atC.tick();
    assertThat(atC.end(soak.id())).isPresent();
    assertThat(only("A-1").open()).isFalse();
  }

  @Test
  void aTrackerThatIsAwayAndBackAgainBetweenTwoUnitsGoesOnWithWhatTheOtherWrote() {
    put("A-5", "A");
    soak("A-5");
    put("A-5", "C");
    atC.accept(Samples.samples("A-5", 400, 800));
    put("A-5", "A");
    atA.accept(Samples.samples("A-5", 800, 1200));
    assertThat(only("A-5").samples()).isGreaterThan(1100);
  }

  @Test
  void aMergeEndsWhereOneOfTheTwoIsMovedMeanwhileAndNoSampleIsLost() {
    put("A-2", "A");
    put("A-3", "A");
    soak("A-2");
    atA.useLiveness(tracker -> OptionalLong.empty());
    Merging merging = atA.merge("A-2", "A-3").orElseThrow();
    put("A-3", "C");
    assertThatThrownBy(() -> atA.mergeNext(merging))
        .isInstanceOf(StoreException.class)
        .hasMessageContaining("A-3 was moved to a rack for which this service does not write");
    assertThat(only("A-2").samples()).isEqualTo(400);
    assertThatThrownBy(() -> atA.merge("A-2", "A-3")).isInstanceOf(StoreException.class);
  }

  @Test
  void limitsPutAtOneAreJudgedByAtTheOtherAlsoAfterItsRestart() {
    put("A-4", "A");
    Soak soak = soak("A-4");
    LimitsOutcome first = atC.change(l -> dwell(501), true, false);
    assertThat(first.judgedAgain()).isEmpty();
    assertThat(first.elsewhere()).contains(soak.id());
    atA.tick();
    assertThat(limits(soak)).isEqualTo(first.after());
    LimitsOutcome later = atC.change(l -> dwell(502), false, false);
    atA.tick();
    assertThat(atA.limits()).isEqualTo(later.after());
    assertThat(limits(soak)).as("not for soaks under way").isEqualTo(first.after());
    LimitsOutcome again = atC.change(l -> l, true, false);
    assertThat(again.elsewhere()).contains(soak.id());
    SoakWatch restarted = watch(ofA, "A");
    restarted.tick();
    assertThat(limits(soak)).isEqualTo(later.after());
  }

  @Test
  void aSoakThatComesAfterLimitsWerePutForSoaksUnderWayIsJudgedByThem() {
    put("A-6", "A");
    Soak soak = soak("A-6");
    LimitsOutcome put = atC.change(l -> dwell(503), true, false);
    atC.tick();
    put("A-6", "C");
    atC.tick();
    assertThat(limits(soak)).isEqualTo(put.after());
    assertThat(atC.end(soak.id())).isPresent();
  }

  @Test
  void limitsArePutThoughTheTermsOfAnothersSoakGoWhileTheyAreReadForItIsDerivedAgain() {
    put("A-7", "A");
    try (SoakStore.Unit unit = ofA.soakStore().begin()) {
      unit.writeSoak(new Soak("A-7@1", "A-7", 0, 1_000_000, 2, null));
      unit.commit();
    }
    assertThat(atC.change(l -> dwell(504), true, false).after()).isEqualTo(dwell(504));
    try (SoakStore.Unit unit = ofA.soakStore().begin()) {
      unit.deleteSoak("A-7@1");
      unit.commit();
    }
  }

  private static Limits dwell(double s) {
    return SomeLimits.with(LimitKey.DWELL_S, s);
  }

  private Object limits(Soak soak) {
    return ofC.soakStore().reader().terms(soak.id()).orElseThrow().limits();
  }

  @Test
  void bothMayStartAtOnceOnAnEmptyDatabase() throws Exception {
    DatabaseSettings bare = SharedServer.bare();
    List<CompletableFuture<Database>> both =
        Stream.of("A", "C")
            .map(rack -> CompletableFuture.supplyAsync(() -> writes(bare, rack)))
            .toList();
    for (CompletableFuture<Database> one : both) {
      try (Database database = one.get(60, TimeUnit.SECONDS)) {
        assertThat(watch(database, "A").limits()).isNotNull();
      }
    }
  }
}
