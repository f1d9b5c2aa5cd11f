package soakbench.live.watch;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.live.ManualClock;
import soakbench.live.Samples;
import soakbench.live.SoakStore;
import soakbench.live.SomeLimits;
import soakbench.live.StoreContents;
import soakbench.live.StoreException;
import soakbench.live.memory.FaultyStore;
import soakbench.model.LimitKey;
import soakbench.model.Limits;
import soakbench.model.Sample;
import soakbench.model.Soak.End;

/** The store fails once, at every call in turn; whoever asked asks again. */
class StoreFailureTest {
  private static final String OTHER = "T-0413";
  private static final List<Sample> SAMPLES =
      new Samples.Maker().lines(30).quiet(15).lines(20).samples();
  private static final List<Sample> OTHERS = new Samples.Maker().named(OTHER).lines(40).samples();

  private static final Limits STRICTER = SomeLimits.with(LimitKey.STILL_FOR_S, 10);

  /**
   * A short life with all there is: batches, silence, late samples, other limits, an end by hand, a
   * restart.
   */
  private static final class Life {
    private final FaultyStore store;
    private final ManualClock clock = new ManualClock(Samples.START_US);
    private SoakWatch watch;
    private int failures;

    Life(FaultyStore store) {
      this.store = store;
      this.watch = new SoakWatch(store, null, clock);
    }

    private void surely(Runnable work) {
      try {
        work.run();
      } catch (StoreException away) {
        failures++;
        work.run();
      }
    }

    private void send(List<Sample> samples) {
      surely(() -> watch.accept(samples));
      clock.pass(1);
      surely(watch::tick);
    }

    Life live() {
      send(SAMPLES.subList(0, 5));
      send(SAMPLES.subList(5, 90));
      send(OTHERS.subList(0, 100));
      send(SAMPLES.subList(110, 300));
      clock.pass(12);
      surely(watch::tick);
      send(SAMPLES.subList(90, 110));
      clock.pass(6);
      surely(watch::tick);
      surely(() -> watch.change(limits -> STRICTER, true, false));
      send(SAMPLES.subList(300, 500));
      send(OTHERS.subList(100, 250));
      surely(() -> watch.end(soakOf(OTHER)));
      watch = new SoakWatch(store, null, clock);
      surely(watch::restore);
      send(OTHERS.subList(250, 400));
      clock.pass(6);
      surely(watch::tick);
      surely(watch::finish);
      return this;
    }

    private String soakOf(String tracker) {
      try (SoakStore.Unit unit = store.begin()) {
        List<soakbench.model.Soak> soaks = unit.soaks(tracker, Long.MIN_VALUE);
        return soaks.get(soaks.size() - 1).id();
      }
    }
  }

  /** Each call fails in one of the two ways; in the bench form in both. */
  @ParameterizedTest
  @ValueSource(booleans = {false, true})
  void aFailureAtAnyCallChangesNothingAfterARetry(boolean afterwards) {
    changesNothing(afterwards, afterwards ? 1 : 2, 2);
  }

  @ParameterizedTest
  @ValueSource(booleans = {false, true})
  @Tag("bench")
  void aFailureAtAnyCallInEitherWayChangesNothingAfterARetry(boolean afterwards) {
    changesNothing(afterwards, 1, 1);
  }

  private static void changesNothing(boolean afterwards, int first, int step) {
    FaultyStore sound = new FaultyStore(-1, afterwards);
    Life expected = new Life(sound).live();
    int calls = sound.calls();
    StoreContents kept = StoreContents.of(sound, Samples.TRACKER);
    StoreContents others = StoreContents.of(sound, OTHER);
    assertThat(kept.soaks().get(0).samples()).isEqualTo(SAMPLES.size());
    assertThat(others.soaks()).extracting(s -> s.ended()).containsExactly(End.TAKEN_OFF, null);
    assertThat(calls).isGreaterThan(120);
    for (int n = first; n <= calls; n += step) {
      FaultyStore faulty = new FaultyStore(n, afterwards);
      Life life = new Life(faulty).live();
      assertThat(life.watch.limits()).as("call %s", n).isEqualTo(STRICTER);
      assertThat(life.failures).as("call %s", n).isEqualTo(1);
      StoreContents.of(faulty, Samples.TRACKER).isSameAs(kept);
      // A silence that only the clock had said may have been forgotten with the failure.
      StoreContents.of(faulty, OTHER).isSameButForMarksAs(others);
      assertThat(life.watch.readiness())
          .usingRecursiveComparison()
          .isEqualTo(expected.watch.readiness());
    }
  }
}
