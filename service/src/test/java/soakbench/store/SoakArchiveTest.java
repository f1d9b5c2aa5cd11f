package soakbench.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.function.Consumer;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import soakbench.live.SoakStore.Unit;
import soakbench.live.StoreException;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.model.State;
import soakbench.model.StateChange;
import soakbench.model.Tracker;

@Timeout(60)
class SoakArchiveTest {
  private static final String ALL = "A-1";
  private static final int MANY = 60_000;

  private static Database database;
  private static SoakArchive archive;

  private static final Soak FIRST = soak("A-1", 0, 100, Soak.End.SILENCE);
  private static final Soak SECOND = soak("B-1", 50, 300, Soak.End.TAKEN_OFF);
  private static final Soak THIRD = soak("A-1", 200, 400, null);
  private static final Soak SAME_START = soak("C-1", 200, 250, null);

  @BeforeAll
  static void open() {
    database = Database.open(SharedServer.empty());
    archive = database.archive();
    database.roster().put(ofLot("A-1", "early"));
    database.roster().put(ofLot("B-1", "late"));
    commit(
        unit -> {
          List.of(FIRST, SECOND, THIRD, SAME_START).forEach(unit::writeSoak);
          unit.appendTimeline(FIRST.id(), List.of(new StateChange(1, State.WARMING, false)));
          unit.writeSamples(Samples.samples(ALL, 0, MANY));
        });
  }

  @AfterAll
  static void close() {
    database.close();
  }

  @Test
  void soaksComeNewestFirst() {
    assertThat(archive.soaks(SoakQuery.newest(10)))
        .containsExactly(SAME_START, THIRD, SECOND, FIRST);
  }

  @Test
  void soaksAreNarrowedByTrackerLotAndTime() {
    assertThat(list("A-1", null, null, null)).containsExactly(THIRD, FIRST);
    assertThat(list(null, "late", null, null)).containsExactly(SECOND);
    assertThat(list(null, "no such lot", null, null)).isEmpty();
    assertThat(list(null, null, 101L, null)).containsExactly(SAME_START, THIRD, SECOND);
    assertThat(list(null, null, 100L, 200L)).containsExactly(SECOND, FIRST);
    assertThat(list("A-1", "early", 0L, 1L)).containsExactly(FIRST);
  }

  @Test
  void pagesMeetWithoutGapOrRepeat() {
    List<Soak> paged = new ArrayList<>();
    String after = null;
    for (int page = 0; page < 5; page++) {
      List<Soak> found = archive.soaks(new SoakQuery(null, null, null, null, null, after, 1));
      paged.addAll(found);
      after = found.isEmpty() ? after : found.get(0).id();
    }
    assertThat(paged).containsExactly(SAME_START, THIRD, SECOND, FIRST);
  }

  @Test
  void goingOnAfterASoakThatIsGoneIsRefused() {
    assertThatThrownBy(
            () -> archive.soaks(new SoakQuery(null, null, null, null, null, "gone@x", 1)))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("gone@x");
  }

  @Test
  void oneSoakWithItsTimeline() {
    assertThat(archive.soak(FIRST.id())).contains(FIRST);
    assertThat(archive.soak("nobody@x")).isEmpty();
    assertThat(archive.timeline(FIRST.id()))
        .containsExactly(new StateChange(1, State.WARMING, false));
    assertThat(archive.timeline("nobody@x")).isEmpty();
    assertThat(archive.bins("nobody", 0, 10)).isEmpty();
  }

  @Test
  void samplesStreamInOrder() {
    List<Sample> found = new ArrayList<>();
    archive.samples(ALL, 0, Long.MAX_VALUE, found::add);
    assertThat(found).isEqualTo(Samples.samples(ALL, 0, MANY));
  }

  @Test
  void aTakerThatThrowsEndsTheExportAndGivesItsConnectionBack() {
    for (int i = 0; i < 10; i++) {
      assertThatThrownBy(
              () ->
                  archive.samples(
                      ALL,
                      0,
                      Long.MAX_VALUE,
                      sample -> {
                        throw new IllegalStateException("client went away");
                      }))
          .hasMessage("client went away");
    }
  }

  @Test
  void exportsThatStallKeepNeitherRequestsNorWritingWaiting() throws Exception {
    ExecutorService clients = Executors.newFixedThreadPool(3);
    CountDownLatch started = new CountDownLatch(3);
    CountDownLatch release = new CountDownLatch(1);
    try {
      List<Future<?>> exports = new ArrayList<>();
      for (int i = 0; i < 3; i++) {
        exports.add(clients.submit(() -> stall(started, release)));
      }
      assertThat(started.await(20, TimeUnit.SECONDS)).isTrue();
      assertThat(archive.soak(FIRST.id())).contains(FIRST);
      commit(unit -> unit.writeSamples(Samples.samples("D-1", 0, 10)));
      StoreException full =
          catchThrowableOfType(
              StoreException.class, () -> archive.samples(ALL, 0, 1, sample -> {}));
      assertThat(full.transientFault()).isTrue();
      release.countDown();
      for (Future<?> export : exports) {
        export.get(20, TimeUnit.SECONDS);
      }
    } finally {
      clients.shutdownNow();
    }
  }

  @Test
  void aReaderSeesOnlyWholeUnitsWhileOneWrites() throws Exception {
    ExecutorService writer = Executors.newSingleThreadExecutor();
    AtomicBoolean done = new AtomicBoolean();
    int perUnit = 100;
    Future<?> writing =
        writer.submit(
            () -> {
              for (int from = 0; from < 50 * perUnit; from += perUnit) {
                List<Sample> samples = Samples.samples("E-1", from, from + perUnit);
                commit(unit -> unit.writeSamples(samples));
              }
              done.set(true);
            });
    int before = 0;
    while (!done.get() && !writing.isDone()) {
      List<Sample> found = new ArrayList<>();
      archive.samples("E-1", 0, Long.MAX_VALUE, found::add);
      assertThat(found.size() % perUnit).isZero();
      assertThat(found.size()).isGreaterThanOrEqualTo(before);
      before = found.size();
    }
    writing.get(20, TimeUnit.SECONDS);
    writer.shutdown();
  }

  private static void stall(CountDownLatch started, CountDownLatch release) {
    AtomicBoolean first = new AtomicBoolean(true);
    archive.samples(
        ALL,
        0,
        Long.MAX_VALUE,
        sample -> {
          if (first.getAndSet(false)) {
            started.countDown();
            await(release);
          }
        });
  }

  private static void await(CountDownLatch latch) {
    try {
      latch.await();
    } catch (InterruptedException e) {
      throw new IllegalStateException(e);
    }
  }

  private static List<Soak> list(String tracker, String lot, Long fromUs, Long toUs) {
    return archive.soaks(new SoakQuery(tracker, lot, null, fromUs, toUs, null, 10));
  }

  private static void commit(Consumer<Unit> work) {
    try (Unit unit = database.soakStore().begin()) {
      work.accept(unit);
      unit.commit();
    }
  }

  private static Tracker ofLot(String id, String lot) {
    Tracker t = Tracker.unknown(id);
    return new Tracker(id, "", lot, "", "", "", "", t.power(), t.rates(), 0, "");
  }

  private static Soak soak(String tracker, long startUs, long endUs, Soak.End ended) {
    return new Soak(tracker + "@" + startUs, tracker, startUs, endUs, 7, ended);
  }
}
