package soakbench.live;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.Test;
import soakbench.live.memory.FaultyStore;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Limits;
import soakbench.model.Sample;

/** The service answers before it has taken up what the store holds. */
class StartTest {
  private static final List<Sample> RUN = new Samples.Maker().lines(120).samples();

  private final FaultyStore store = new FaultyStore(-1, false);

  private SoakWatch watch() {
    return new SoakWatch(store, Limits.DEFAULT, () -> 0);
  }

  @Test
  void samplesThatComeBeforeTheRestoreGoOnWithTheOpenSoak() {
    watch().accept(RUN.subList(0, 600));
    SoakWatch again = watch();
    again.accept(RUN.subList(600, RUN.size()));
    again.restore();
    again.finish();
    StoreContents.of(store, Samples.TRACKER).isSameAs(StoreContents.replayed(RUN));
  }

  @Test
  void aSoakCanBeEndedBeforeTheRestore() {
    watch().accept(RUN);
    String soak = StoreContents.of(store, Samples.TRACKER).soaks().get(0).id();
    assertThat(watch().end(soak)).isPresent();
  }

  @Test
  void whoAsksDuringARestoreNeverFindsTheRackEmpty() throws InterruptedException {
    SoakWatch watch = watch();
    watch.accept(RUN.subList(0, 100));
    AtomicInteger fewest = new AtomicInteger(Integer.MAX_VALUE);
    AtomicBoolean stop = new AtomicBoolean();
    CountDownLatch asking = new CountDownLatch(1);
    Thread asker =
        new Thread(
            () -> {
              while (!stop.get()) {
                fewest.accumulateAndGet(watch.readiness().size(), Math::min);
                asking.countDown();
              }
            });
    asker.start();
    asking.await();
    for (int i = 0; i < 2000; i++) {
      watch.restore();
    }
    stop.set(true);
    asker.join();
    assertThat(fewest).hasValue(1);
  }

  @Test
  void anEndedSoakIsNotJudgedAgain() {
    SoakWatch watch = watch();
    watch.accept(RUN);
    watch.end(watch.readiness().get(0).soak());
    int before = store.binsRead();
    watch().restore();
    assertThat(store.binsRead() - before).isEqualTo(1);
  }

  @Test
  void whatComesAfterAnEndedSoakAndARestartBeginsAnother() {
    for (int cut = 1180; cut < RUN.size(); cut += 7) {
      FaultyStore kept = new FaultyStore(-1, false);
      FaultyStore unbroken = new FaultyStore(-1, false);
      for (FaultyStore each : List.of(kept, unbroken)) {
        SoakWatch watch = new SoakWatch(each, Limits.DEFAULT, () -> 0);
        watch.accept(RUN.subList(0, cut));
        watch.end(watch.readiness().get(0).soak());
        SoakWatch after = each == kept ? new SoakWatch(each, Limits.DEFAULT, () -> 0) : watch;
        after.accept(RUN.subList(cut, RUN.size()));
        after.accept(new Samples.Maker().quiet(130).reboot().lines(70).samples());
        after.finish();
      }
      StoreContents.of(kept, Samples.TRACKER).isSameAs(StoreContents.of(unbroken, Samples.TRACKER));
    }
  }
}
