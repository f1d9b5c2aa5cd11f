package soakbench.live;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatList;

import java.util.List;
import java.util.Map;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import soakbench.live.SoakStore.Unit;
import soakbench.model.Soak;
import soakbench.model.State;
import soakbench.model.StateChange;

/** What every store must do with soaks and their timelines. */
interface SoaksContract extends StoreInTest {
  @Test
  default void soaksAreReplacedByIdAndComeByStart() {
    Soak early = soak("a", 0, 100, Soak.End.LATE_REBOOT);
    Soak late = soak("b", 200, 300, null);
    run(u -> u.writeSoak(late));
    run(u -> u.writeSoak(soak("a", 0, 50, null)));
    run(u -> u.writeSoak(early));
    assertThatList(read(u -> u.soaks(tracker(), 0))).containsExactly(early, late);
    assertThatList(read(u -> u.soaks(tracker(), START_US + 100))).containsExactly(early, late);
    assertThatList(read(u -> u.soaks(tracker(), START_US + 101))).containsExactly(late);
    assertThatList(read(Unit::lastSoaks)).contains(late).doesNotContain(early);
  }

  @Test
  default void severalSoaksAreWrittenAsOneByOne() {
    Soak first = soak("a", 0, 100, Soak.End.LATE_REBOOT);
    Soak second = soak("b", 200, 300, null);
    run(u -> u.writeSoaks(List.of()));
    run(u -> u.writeSoaks(List.of(soak("a", 0, 50, null), second)));
    run(u -> u.writeSoaks(List.of(second, first.withoutSamples(), first)));
    assertThatList(read(u -> u.soaks(tracker(), 0)))
        .containsExactly(first.withoutSamples(), second);
  }

  @Test
  default void aDeletedSoakTakesItsTimelineWithItAndLeavesItsSamples() {
    Soak soak = soak("a", 0, 100, Soak.End.TAKEN_OFF);
    write(List.of(sample(0)));
    run(u -> u.writeSoak(soak));
    run(u -> u.appendTimeline(soak.id(), List.of(change(0, State.STARTING))));
    run(u -> u.deleteSoak(soak.id()));
    assertThatList(read(u -> u.soaks(tracker(), 0))).isEmpty();
    assertThatList(read(u -> u.timeline(soak.id()))).isEmpty();
    assertThat(stored()).isEqualTo(List.of(sample(0)));
  }

  @Test
  default void thatASoaksSamplesAreGoneIsNeverTakenBack() {
    Soak soak = soak("a", 0, 100, null);
    run(u -> u.writeSoak(soak));
    assertThatList(read(u -> u.soaks(tracker(), 0))).containsExactly(soak);
    run(u -> u.writeSoak(soak.withoutSamples()));
    run(u -> u.writeSoak(soak));
    assertThatList(read(u -> u.soaks(tracker(), 0))).containsExactly(soak.withoutSamples());
    assertThatList(read(Unit::lastSoaks)).contains(soak.withoutSamples());
  }

  @Test
  default void aTimelineKeepsTheOrderInWhichItWasWritten() {
    String soak = tracker() + "@t";
    StateChange first = change(0, State.STARTING);
    StateChange second = change(10, State.WARMING);
    StateChange sameTime = new StateChange(START_US + 10, State.READY, true);
    run(u -> u.appendTimeline(soak, List.of(first)));
    run(u -> u.appendTimeline(soak, List.of(second, sameTime)));
    assertThatList(read(u -> u.timeline(soak))).containsExactly(first, second, sameTime);
    run(u -> u.replaceTimeline(soak, List.of(sameTime)));
    run(u -> u.appendTimeline(soak, List.of(second)));
    assertThatList(read(u -> u.timeline(soak))).containsExactly(sameTime, second);
    run(u -> u.replaceTimeline(soak, List.of()));
    assertThatList(read(u -> u.timeline(soak))).isEmpty();
  }

  @Test
  default void timelinesOfSeveralSoaksAreEachAppendedToItsOwn() {
    StateChange first = change(0, State.STARTING);
    StateChange second = change(10, State.WARMING);
    run(u -> u.appendTimelines(Map.of()));
    run(u -> u.appendTimeline(tracker() + "@t", List.of(first)));
    run(
        u ->
            u.appendTimelines(
                Map.of(
                    tracker() + "@t", List.of(second, first), tracker() + "@u", List.of(second))));
    assertThatList(read(u -> u.timeline(tracker() + "@t"))).containsExactly(first, second, first);
    assertThatList(read(u -> u.timeline(tracker() + "@u"))).containsExactly(second);
  }

  @Test
  default void everyStateCanStandInATimeline() {
    List<StateChange> all =
        IntStream.range(0, State.values().length)
            .mapToObj(i -> change(i, State.values()[i]))
            .toList();
    run(u -> u.replaceTimeline(tracker(), all));
    assertThatList(read(u -> u.timeline(tracker()))).isEqualTo(all);
  }
}
