package soakbench.live.watch;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import soakbench.live.ManualClock;
import soakbench.live.Samples;
import soakbench.live.SomeLimits;
import soakbench.live.StoreContents;
import soakbench.live.memory.FaultyStore;
import soakbench.live.memory.MemoryStore;
import soakbench.model.LimitKey;
import soakbench.model.Limits;
import soakbench.model.Sample;
import soakbench.model.State;
import soakbench.model.StateChange;

/** Samples that come after their second was judged. */
class LateSamplesTest {
  private final MemoryStore store = new MemoryStore();
  private final ManualClock clock = new ManualClock(Samples.START_US);
  private final SoakWatch watch = new SoakWatch(store, Limits.DEFAULT, clock);

  private static List<Sample> without(List<Sample> all, double fromS, double toS) {
    return all.stream().filter(s -> !between(s, fromS, toS)).toList();
  }

  private static List<Sample> only(List<Sample> all, double fromS, double toS) {
    return all.stream().filter(s -> between(s, fromS, toS)).toList();
  }

  private static boolean between(Sample s, double fromS, double toS) {
    double tS = (s.timeUs() - Samples.START_US) / 1e6;
    return tS >= fromS && tS < toS;
  }

  private StoreContents kept() {
    return StoreContents.of(store, Samples.TRACKER);
  }

  @Test
  void theyEndUpWhereTheyWouldHaveBeenInTime() {
    List<Sample> all = new Samples.Maker().lines(200).samples();
    watch.accept(without(all, 100, 130));
    assertThat(kept().timeline(0)).extracting(StateChange::state).contains(State.SILENT);
    watch.accept(only(all, 100, 130));
    watch.finish();
    kept().isSameButForMarksAs(StoreContents.replayed(all));
  }

  @Test
  void thoseOfAWholeRackAreWorkedInWithinATick() {
    for (int i = 0; i < 30; i++) {
      watch.accept(
          without(new Samples.Maker().named("T-" + i).every(0.5).lines(60).samples(), 20, 21));
    }
    for (int i = 0; i < 30; i++) {
      watch.accept(
          only(new Samples.Maker().named("T-" + i).every(0.5).lines(60).samples(), 20, 21));
    }
    assertThat(store.reader().staleTrackers()).hasSize(30);
    watch.tick();
    assertThat(store.reader().staleTrackers()).isEmpty();
  }

  @Test
  void theTimelineSaysWhatWasRevised() {
    List<Sample> all = new Samples.Maker().lines(200).samples();
    watch.accept(without(all, 100, 130));
    watch.accept(only(all, 100, 130));
    watch.finish();
    // Silence from 110 s on was taken back, so what held before it held on.
    List<StateChange> timeline = kept().timeline(0);
    assertThat(timeline).extracting(StateChange::state).doesNotContain(State.SILENT);
    assertThat(timeline.get(timeline.size() - 1).revised()).isTrue();
    assertThat(timeline.get(0).revised()).isFalse();
  }

  @Test
  void whatTheyDoNotChangeIsNotMarked() {
    List<Sample> all = new Samples.Maker().lines(200).samples();
    watch.accept(without(all, 100, 100.5));
    watch.accept(only(all, 100, 100.5));
    watch.finish();
    kept().isSameAs(StoreContents.replayed(all));
  }

  @Test
  void theyJoinTwoSoaksThatASilenceHadParted() {
    List<Sample> all = new Samples.Maker().lines(900).samples();
    watch.accept(without(all, 100, 800));
    assertThat(kept().soaks()).hasSize(2);
    watch.accept(only(all, 100, 800));
    watch.finish();
    assertThat(kept().soaks()).hasSize(1);
    kept().isSameButForMarksAs(StoreContents.replayed(all));
  }

  @Test
  void theyTakeBackASilenceAfterTheFirstSecondThoughNoVerdictIsLeftThen() {
    List<Sample> all = new Samples.Maker().every(4).lines(80).samples();
    watch.accept(all.subList(0, 1));
    clock.pass(12);
    watch.tick();
    assertThat(kept().timeline(0)).extracting(StateChange::state).contains(State.SILENT);
    watch.accept(all.subList(1, 2));
    watch.tick();
    assertThat(kept().timeline(0)).isEmpty();
    watch.accept(all.subList(2, all.size()));
    watch.finish();
    kept().isSameButForMarksAs(StoreContents.replayed(all));
  }

  @Test
  void whileTheyWaitOtherLimitsDoNotSayASilenceAgainThatTheyContradict() {
    List<Sample> all = new Samples.Maker().lines(60).samples();
    watch.accept(all.subList(0, 500));
    clock.pass(12);
    watch.tick();
    watch.accept(all.subList(500, 510));
    SoakWatch again = new SoakWatch(store, Limits.DEFAULT, clock);
    again.deriveWith(work -> {});
    again.restore();
    clock.pass(4);
    again.tick();
    again.change(limits -> SomeLimits.with(LimitKey.STILL_FOR_S, 10), true, false);
    assertThat(kept().timeline(0)).extracting(StateChange::state).doesNotContain(State.SILENT);
  }

  @Test
  void theyMayComeHoursLate() {
    List<Sample> all = new Samples.Maker().every(1).lines(9000).samples();
    watch.accept(without(all, 100, 130));
    watch.accept(only(all, 100, 130));
    watch.finish();
    kept().isSameButForMarksAs(StoreContents.replayed(all));
  }

  @Test
  void theyMayComeBeforeEverythingElse() {
    List<Sample> all = new Samples.Maker().lines(120).samples();
    watch.accept(without(all, 0, 40));
    watch.accept(only(all, 0, 40));
    watch.finish();
    kept().isSameButForMarksAs(StoreContents.replayed(all));
  }

  @Test
  void aLiveServiceDerivesAgainByItself() {
    List<Sample> all = new Samples.Maker().lines(200).samples();
    watch.accept(without(all, 100, 130));
    watch.accept(only(all, 100, 130));
    clock.pass(1);
    watch.tick();
    watch.finish();
    kept().isSameButForMarksAs(StoreContents.replayed(all));
  }

  @Test
  void moreThanHalfAnHourOfThemIsWorkedInOnce() {
    List<Sample> all = new Samples.Maker().every(1).lines(6000).samples();
    watch.accept(without(all, 1000, 3500));
    watch.accept(only(all, 1000, 3500));
    clock.pass(1);
    watch.tick();
    assertThat(store.reader().staleTrackers()).isEmpty();
    watch.finish();
    kept().isSameButForMarksAs(StoreContents.replayed(all));
  }

  @Test
  void aRestartBeforeTheyAreDerivedForgetsNothing() {
    List<Sample> all = new Samples.Maker().lines(200).samples();
    watch.accept(without(all, 100, 130));
    watch.accept(only(all, 100, 130));
    SoakWatch again = new SoakWatch(store, Limits.DEFAULT, clock);
    again.restore();
    again.finish();
    kept().isSameButForMarksAs(StoreContents.replayed(all));
  }

  @Test
  void manyInRandomOrderEndUpAsInOrder() {
    List<Sample> all =
        new Samples.Maker().lines(60).quiet(20).lines(60).reboot().lines(60).samples();
    for (long seed = 1; seed <= 10; seed++) {
      List<Sample> mixed = new ArrayList<>(all);
      java.util.Collections.shuffle(mixed, new java.util.Random(seed));
      MemoryStore other = new MemoryStore();
      SoakWatch shuffled = new SoakWatch(other, Limits.DEFAULT, () -> 0);
      for (int from = 0; from < mixed.size(); from += 97) {
        shuffled.accept(mixed.subList(from, Math.min(mixed.size(), from + 97)));
      }
      shuffled.finish();
      StoreContents.of(other, Samples.TRACKER).isSameButForMarksAs(StoreContents.replayed(all));
    }
  }

  @Test
  void aLineOfAnotherCenturyMakesASmallSoakOfItsOwnAndCostsNoWalkThroughTheYears() {
    FaultyStore counting = new FaultyStore(-1, false);
    SoakWatch live = new SoakWatch(counting, Limits.DEFAULT, clock);
    List<Sample> all = new Samples.Maker().lines(200).quiet(700).lines(200).samples();
    live.accept(all);
    live.tick();
    StoreContents before = StoreContents.of(counting, Samples.TRACKER);
    Sample odd = ClockSetTest.shifted(all.subList(0, 1), -825_000_000).get(0);
    live.accept(List.of(odd));
    live = new SoakWatch(counting, Limits.DEFAULT, clock);
    live.restore();
    int calls = counting.calls();
    live.tick();
    assertThat(counting.calls() - calls).isLessThan(60);
    StoreContents after = StoreContents.of(counting, Samples.TRACKER);
    assertThat(after.soaks()).hasSize(3);
    assertThat(after.soaks().get(0).samples()).isEqualTo(1);
    assertThat(after.soaks().subList(1, 3)).isEqualTo(before.soaks());
    before.timelines().forEach((id, t) -> assertThat(after.timelines()).containsEntry(id, t));
    live.finish();
    StoreContents.of(counting, Samples.TRACKER)
        .isSameButForMarksAs(
            StoreContents.replayed(Stream.concat(Stream.of(odd), all.stream()).toList()));
  }
}
