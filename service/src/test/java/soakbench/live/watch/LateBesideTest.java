package soakbench.live.watch;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.lang.reflect.InvocationTargetException;
import java.lang.reflect.Proxy;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import soakbench.live.ManualClock;
import soakbench.live.Samples;
import soakbench.live.SoakStore;
import soakbench.live.StoreContents;
import soakbench.live.memory.MemoryStore;
import soakbench.model.Limits;
import soakbench.model.Sample;

/** Late samples are worked in beside the live watches, however long it takes. */
@Timeout(60)
class LateBesideTest {
  private final HeldStore store = new HeldStore();
  private final ManualClock clock = new ManualClock(Samples.START_US);
  private final SoakWatch watch = new SoakWatch(store, Limits.DEFAULT, clock);
  private final ExecutorService deriving = Executors.newSingleThreadExecutor();

  /** A store in memory, whose looks see nothing before they are let go. */
  private static final class HeldStore implements SoakStore {
    private final MemoryStore store = new MemoryStore();
    private final CountDownLatch looked = new CountDownLatch(1);
    private final CountDownLatch letGo = new CountDownLatch(1);

    @Override
    public Unit begin() {
      return store.begin();
    }

    @Override
    public Reader reader() {
      Reader reader = store.reader();
      return (Reader)
          Proxy.newProxyInstance(
              Reader.class.getClassLoader(),
              new Class<?>[] {Reader.class},
              (proxy, method, arguments) -> {
                looked.countDown();
                letGo.await();
                try {
                  return method.invoke(reader, arguments);
                } catch (InvocationTargetException e) {
                  throw e.getCause();
                }
              });
    }
  }

  @AfterEach
  void end() {
    store.letGo.countDown();
    deriving.shutdownNow();
  }

  private static List<Sample> part(List<Sample> all, int from, int to) {
    return all.subList(from, to);
  }

  @Test
  void theOthersAreJudgedMeanwhileAndWhatCameMeanwhileIsNotLost() throws Exception {
    watch.deriveWith(deriving);
    List<Sample> all = new Samples.Maker().lines(300).samples();
    List<Sample> others = new Samples.Maker().named("T-2").lines(300).samples();
    watch.accept(part(all, 0, 1000));
    watch.accept(part(all, 1200, 2000));
    watch.accept(part(others, 0, 1000));
    watch.accept(part(all, 1000, 1100));
    watch.tick();
    store.looked.await();
    // Held in the middle of it.
    watch.accept(part(others, 1000, 2000));
    watch.accept(part(all, 2000, 2500));
    watch.accept(part(all, 1100, 1200));
    watch.tick();
    assertThat(watch.readiness("T-2").orElseThrow().asOfUs())
        .isGreaterThan(others.get(1950).timeUs());
    assertThat(watch.readiness(Samples.TRACKER).orElseThrow().asOfUs())
        .isGreaterThan(all.get(2450).timeUs());
    store.letGo.countDown();
    await()
        .atMost(Duration.ofSeconds(30))
        .until(
            () -> {
              clock.pass(6);
              watch.tick();
              try (SoakStore.Reader reader = store.store.reader()) {
                return reader.staleTrackers().isEmpty();
              }
            });
    watch.accept(part(all, 2500, 3000));
    watch.finish();
    StoreContents.of(store.store, Samples.TRACKER).isSameButForMarksAs(StoreContents.replayed(all));
  }

  @Test
  void anEndByHandMeanwhileStands() throws Exception {
    watch.deriveWith(deriving);
    List<Sample> all = new Samples.Maker().lines(200).samples();
    watch.accept(part(all, 0, 1000));
    watch.accept(part(all, 1100, 2000));
    watch.accept(part(all, 1000, 1100));
    watch.tick();
    store.looked.await();
    watch.end(SoakRun.id(Samples.TRACKER, Samples.START_US));
    store.letGo.countDown();
    watch.settle();
    // Who derives it may be about to close the unit in which he found that it is over.
    deriving.shutdown();
    assertThat(deriving.awaitTermination(30, TimeUnit.SECONDS)).isTrue();
    assertThat(watch.readiness(Samples.TRACKER)).isEmpty();
    assertThat(StoreContents.of(store.store, Samples.TRACKER).soaks().get(0).samples())
        .isEqualTo(2000);
  }

  @Test
  void aRestartIsUpBeforeAnythingIsDerivedAgain() {
    List<Sample> all = new Samples.Maker().lines(200).samples();
    watch.accept(part(all, 0, 1000));
    watch.accept(part(all, 1100, 2000));
    watch.accept(part(all, 1000, 1100));
    SoakWatch again = new SoakWatch(store, Limits.DEFAULT, clock);
    again.deriveWith(deriving);
    again.restore();
    again.tick();
    assertThat(again.readiness(Samples.TRACKER)).isPresent();
    // All but the late ones and the two seconds that are still open.
    assertThat(StoreContents.of(store.store, Samples.TRACKER).soaks().get(0).samples())
        .isEqualTo(1880);
  }
}
