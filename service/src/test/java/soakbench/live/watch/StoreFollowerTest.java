package soakbench.live.watch;

import static org.assertj.core.api.Assertions.assertThat;

import java.lang.reflect.InvocationTargetException;
import java.lang.reflect.Proxy;
import java.util.List;
import org.junit.jupiter.api.Test;
import soakbench.LogLines;
import soakbench.live.ManualClock;
import soakbench.live.Samples;
import soakbench.live.SoakStore;
import soakbench.live.memory.MemoryStore;
import soakbench.model.Limits;
import soakbench.model.Sample;

/** A service that only reads. */
class StoreFollowerTest {
  private static final String OTHER = "T-2";

  private final OddStore store = new OddStore();
  private final ManualClock clock = new ManualClock(Samples.START_US);
  private final SoakWatch writer = new SoakWatch(store, Limits.DEFAULT, clock);
  private final SoakWatch reader = new SoakWatch(store, Limits.DEFAULT, clock);

  /** A store in memory, the seconds of one of whose trackers can't be read. */
  private static final class OddStore implements SoakStore {
    private final MemoryStore store = new MemoryStore();
    private boolean damaged = true;
    private int asked;

    @Override
    public Unit begin() {
      return store.begin();
    }

    @Override
    public Reader reader() {
      return store.reader();
    }

    @Override
    public Unit beginReading() {
      Unit unit = store.begin();
      return (Unit)
          Proxy.newProxyInstance(
              Unit.class.getClassLoader(),
              new Class<?>[] {Unit.class},
              (proxy, method, arguments) -> {
                if (method.getName().equals("bins") && arguments[0].equals(OTHER)) {
                  asked++;
                  if (damaged) {
                    throw new IllegalStateException("a damaged row");
                  }
                }
                try {
                  return method.invoke(unit, arguments);
                } catch (InvocationTargetException e) {
                  throw e.getCause();
                }
              });
    }
  }

  private static List<Sample> lines(String tracker) {
    return new Samples.Maker().named(tracker).lines(400).samples();
  }

  private final List<Sample> one = lines(Samples.TRACKER);
  private final List<Sample> other = lines(OTHER);

  /** Stored second by second, and read as often. */
  private void seconds(int from, int to) {
    for (int i = from; i < to; i++) {
      clock.pass(1);
      writer.accept(one.subList(10 * i, 10 * i + 10));
      writer.accept(other.subList(10 * i, 10 * i + 10));
      reader.follow();
    }
  }

  @Test
  void oneSoakThatCannotBeReadKeepsNoOtherFromBeingJudged() {
    try (LogLines log = new LogLines("soakbench.live.watch.StoreFollower")) {
      seconds(0, 100);
      assertThat(reader.readiness(Samples.TRACKER).orElseThrow().asOfUs())
          .isGreaterThan(one.get(960).timeUs());
      assertThat(reader.readiness(OTHER)).isEmpty();
      assertThat(store.asked).isEqualTo(1);
      seconds(100, 320);
      assertThat(store.asked).isEqualTo(2);
      assertThat(log.lines()).hasSize(1);
      assertThat(log.lines().get(0)).contains(OTHER, "can't be read");
    }
    store.damaged = false;
    clock.pass(300);
    seconds(320, 330);
    assertThat(reader.readiness(OTHER).orElseThrow().asOfUs())
        .isGreaterThan(other.get(3260).timeUs());
  }

  @Test
  void whatIsAnnouncedAsJudgedAgainIsReadAnewAtOnce() {
    seconds(0, 100);
    assertThat(reader.readiness(OTHER)).isEmpty();
    store.damaged = false;
    reader.follow();
    assertThat(reader.readiness(OTHER)).isEmpty();
    reader.follow(OTHER::equals);
    assertThat(reader.readiness(OTHER)).isPresent();
  }
}
