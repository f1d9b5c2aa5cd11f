package soakbench.live.watch;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalLong;
import org.junit.jupiter.api.Test;
import soakbench.live.EventClock;
import soakbench.live.Samples;
import soakbench.live.memory.MemoryStore;
import soakbench.model.Limits;
import soakbench.model.Sample;

/** A start after a long pause finds soaks that are over; who is live does not wait for them. */
class ManySoaksEndTest {
  private static final int SOAKS = 30;
  private static final String LIVE = "T-live";

  /** One by which each soak that is looked at takes a twentieth of a second. */
  private static final class SlowClock implements EventClock {
    long nowUs = Samples.START_US;

    @Override
    public long nowUs() {
      return nowUs;
    }

    @Override
    public long runningUs() {
      return nowUs += 50_000;
    }
  }

  @Test
  void aFewEndInATickAndAllInTheEnd() {
    SlowClock clock = new SlowClock();
    MemoryStore store = new MemoryStore();
    SoakWatch before = new SoakWatch(store, Limits.DEFAULT, clock);
    for (int i = 0; i < SOAKS; i++) {
      before.accept(new Samples.Maker().named("T-" + i).every(1).lines(20).samples());
    }
    clock.nowUs += 3_600_000_000L;
    SoakWatch watch = new SoakWatch(store, null, clock);
    watch.useLiveness(t -> t.equals(LIVE) ? OptionalLong.of(clock.nowUs) : OptionalLong.empty());
    watch.restore();
    clock.nowUs += 11_000_000;
    Samples.Maker maker = new Samples.Maker().named(LIVE).every(1).quiet(3620);
    List<Integer> left = new ArrayList<>();
    for (int tick = 1; tick <= SOAKS; tick++) {
      List<Sample> all = maker.lines(1).samples();
      watch.accept(all.subList(all.size() - 1, all.size()));
      watch.tick();
      int goOn = (int) watch.readiness().stream().filter(r -> !r.tracker().equals(LIVE)).count();
      assertThat(left.isEmpty() ? SOAKS - goOn : left.get(left.size() - 1) - goOn)
          .as("ended in tick %d", tick)
          .isBetween(0, 4);
      left.add(goOn);
      if (tick > 3) {
        assertThat(watch.readiness(LIVE)).isPresent();
      }
    }
    assertThat(left.get(0)).isLessThan(SOAKS);
    assertThat(left.get(left.size() - 1)).isZero();
  }
}
