package soakbench.live.watch;

import static org.assertj.core.api.Assertions.assertThat;

import java.lang.reflect.InvocationTargetException;
import java.lang.reflect.Proxy;
import java.util.List;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import soakbench.live.ManualClock;
import soakbench.live.Samples;
import soakbench.live.SoakStore;
import soakbench.live.memory.MemoryStore;
import soakbench.model.Limits;

/** What the live clock finds of many trackers is written together. */
class TicksTogetherTest {
  private final MemoryStore store = new MemoryStore();
  private int writesOfBins;

  private SoakStore counting() {
    return counting(SoakStore.class, store);
  }

  private <T> T counting(Class<T> what, Object real) {
    Object proxy =
        Proxy.newProxyInstance(
            what.getClassLoader(),
            new Class<?>[] {what},
            (self, method, arguments) -> {
              boolean bins = method.getName().equals("writeBins");
              writesOfBins += bins && !((List<?>) arguments[0]).isEmpty() ? 1 : 0;
              try {
                Object result = method.invoke(real, arguments);
                return result instanceof SoakStore.Unit unit
                    ? counting(SoakStore.Unit.class, unit)
                    : result;
              } catch (InvocationTargetException e) {
                throw e.getCause();
              }
            });
    return what.cast(proxy);
  }

  @Test
  void theLastSecondsOfAWholeRackAreWrittenAtOnce() {
    ManualClock clock = new ManualClock(Samples.START_US);
    SoakWatch watch = new SoakWatch(counting(), Limits.DEFAULT, clock);
    for (int i = 0; i < 40; i++) {
      watch.accept(new Samples.Maker().named("T-" + i).every(0.5).lines(20).samples());
    }
    long storedBefore = bins();
    writesOfBins = 0;
    for (int s = 0; s < 15; s++) {
      clock.pass(1);
      watch.tick();
    }
    assertThat(bins()).isEqualTo(storedBefore + 40 * 2);
    // The second before the last may close a tick before it.
    assertThat(writesOfBins).isBetween(1, 2);
  }

  private long bins() {
    return IntStream.range(0, 40)
        .mapToLong(i -> store.reader().bins("T-" + i, Samples.START_S, Samples.START_S + 60).size())
        .sum();
  }
}
