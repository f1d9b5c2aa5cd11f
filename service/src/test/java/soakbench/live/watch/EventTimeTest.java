package soakbench.live.watch;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import java.util.Set;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import soakbench.demo.simulation.Mix;
import soakbench.demo.simulation.SimulateOptions;
import soakbench.live.SampleSink;
import soakbench.live.Samples;
import soakbench.live.StoreContents;
import soakbench.live.memory.MemoryStore;
import soakbench.model.Limits;
import soakbench.model.Sample;
import soakbench.model.State;

/** The same samples give the same verdicts however they arrive. */
class EventTimeTest {
  private static final List<Sample> RUN =
      Samples.simulated(
          SimulateOptions.usual(65).withMix(Mix.NASTY).lasting(800).named(Samples.TRACKER));
  private static final StoreContents EXPECTED = StoreContents.replayed(RUN);

  private final MemoryStore store = new MemoryStore();

  private SoakWatch watch() {
    return new SoakWatch(store, Limits.DEFAULT, () -> 0);
  }

  @Test
  void theRunIsWorthIt() {
    Set<State> states =
        EXPECTED.timelines().values().stream()
            .flatMap(List::stream)
            .map(c -> c.state())
            .collect(Collectors.toSet());
    assertThat(states).contains(State.STARTING, State.WARMING, State.DISTURBED, State.SILENT);
  }

  @Test
  void anyCutIntoBatchesAndAnyOrderWithinOneGivesTheSame() {
    for (long seed = 1; seed <= 12; seed++) {
      Random random = new Random(seed);
      MemoryStore kept = new MemoryStore();
      SoakWatch watch = new SoakWatch(kept, Limits.DEFAULT, () -> 0);
      int most = 1 + (int) Math.pow(10, 1 + random.nextInt(4));
      for (int from = 0; from < RUN.size(); ) {
        int to = Math.min(RUN.size(), from + 1 + random.nextInt(most));
        List<Sample> batch = new ArrayList<>(RUN.subList(from, to));
        Collections.shuffle(batch, random);
        watch.accept(batch);
        from = to;
      }
      watch.finish();
      StoreContents.of(kept, Samples.TRACKER).isSameAs(EXPECTED);
    }
  }

  @Test
  void oneSampleAtATimeGivesTheSame() {
    SoakWatch watch = watch();
    RUN.forEach(s -> watch.accept(List.of(s)));
    watch.finish();
    StoreContents.of(store, Samples.TRACKER).isSameAs(EXPECTED);
  }

  @Test
  void sendingAgainIsHarmless() {
    SoakWatch watch = watch();
    for (int from = 0; from < RUN.size(); from += 500) {
      List<Sample> batch = RUN.subList(from, Math.min(RUN.size(), from + 500));
      assertThat(watch.accept(batch).duplicate()).isZero();
      SampleSink.Outcome again = watch.accept(RUN.subList(0, from + batch.size()));
      assertThat(again).isEqualTo(new SampleSink.Outcome(0, from + batch.size(), 0));
    }
    watch.finish();
    StoreContents.of(store, Samples.TRACKER).isSameAs(EXPECTED);
  }

  @Test
  void aRestartAnywhereGivesTheSameVerdictsAndTimeline() {
    SoakWatch unbroken = new SoakWatch(new MemoryStore(), Limits.DEFAULT, () -> 0);
    SoakWatch watch = watch();
    int from = 0;
    for (int place = 1; place <= 50; place++) {
      // Not at whole seconds: the open seconds have to come back too.
      int to = place * RUN.size() / 50 - (place * 7) % 11;
      List<Sample> batch = RUN.subList(from, to);
      watch.accept(batch);
      unbroken.accept(batch);
      watch = watch();
      watch.restore();
      assertThat(watch.readiness()).hasSameSizeAs(unbroken.readiness());
      if (!unbroken.readiness().isEmpty()) {
        StoreContents.sameVerdict(watch.readiness().get(0), unbroken.readiness().get(0));
      }
      from = to;
    }
    watch.accept(RUN.subList(from, RUN.size()));
    watch.finish();
    StoreContents.of(store, Samples.TRACKER).isSameAs(EXPECTED);
  }

  @Test
  void aRestartWithinTheFirstSecondsLosesNothing() {
    for (int first = 1; first <= 45; first += 4) {
      MemoryStore kept = new MemoryStore();
      List<Sample> head = new ArrayList<>(RUN.subList(0, first));
      Collections.reverse(head);
      SoakWatch before = new SoakWatch(kept, Limits.DEFAULT, () -> 0);
      head.forEach(s -> before.accept(List.of(s)));
      SoakWatch after = new SoakWatch(kept, Limits.DEFAULT, () -> 0);
      after.restore();
      after.accept(RUN.subList(first, 600));
      after.finish();
      StoreContents.of(kept, Samples.TRACKER)
          .isSameButForMarksAs(StoreContents.replayed(RUN.subList(0, 600)));
    }
  }

  @Test
  void everySoakCountsTheSamplesThatAreStored() {
    long counted = EXPECTED.soaks().stream().mapToLong(s -> s.samples()).sum();
    assertThat(counted).isEqualTo(RUN.size());
  }
}
