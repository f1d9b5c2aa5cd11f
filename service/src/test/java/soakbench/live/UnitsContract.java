package soakbench.live;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatList;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import soakbench.live.SoakStore.Unit;
import soakbench.live.SoakStore.Written;
import soakbench.model.Soak;
import soakbench.model.State;

/** What every store must do with units of work, and with the marks that outlive them. */
interface UnitsContract extends StoreInTest {
  @Test
  default void writingNothingIsFine() {
    assertThat(write(List.of())).isEqualTo(new Written(List.of(), 0, 0));
    run(u -> u.writeBins(List.of()));
    run(u -> u.appendTimeline("none", List.of()));
  }

  @Test
  default void aUnitSeesWhatItWroteItself() {
    try (Unit unit = store().begin()) {
      unit.writeSamples(List.of(sample(0)));
      unit.writeSamples(List.of(sample(0), sample(1)));
      assertThat(unit.samples(tracker(), 0, Long.MAX_VALUE)).hasSize(2);
    }
  }

  @Test
  default void aUnitThatIsNotCommittedLeavesNothing() {
    write(List.of(sample(0)));
    Soak soak = soak("a", 0, 100, null);
    run(u -> u.writeSoak(soak));
    run(u -> u.replaceTimeline(soak.id(), List.of(change(0, State.STARTING))));
    try (Unit unit = store().begin()) {
      unit.writeSamples(List.of(sample(0), sample(1)));
      unit.writeBins(List.of(bin(5, 1.5)));
      unit.writeSoak(soak("b", 200, 300, null));
      unit.deleteSoak(soak.id());
      unit.markStale(Map.of(tracker(), StaleRange.of(3)));
    }
    assertThat(stored()).isEqualTo(List.of(sample(0)));
    assertThatList(read(u -> u.bins(tracker(), 0, Long.MAX_VALUE))).isEmpty();
    assertThatList(read(u -> u.soaks(tracker(), 0))).containsExactly(soak);
    assertThatList(read(u -> u.timeline(soak.id()))).containsExactly(change(0, State.STARTING));
    assertThat(stale()).isEmpty();
  }

  @Test
  default void samplesAloneAreTakenBackAsWell() {
    for (int i = 0; i < 3; i++) {
      try (Unit unit = store().begin()) {
        unit.writeSamples(List.of(sample(i)));
      }
    }
    assertThatList(stored()).isEmpty();
  }

  @Test
  default void aSecondUnitIsRefusedWhileOneIsOpen() {
    try (Unit unit = store().begin()) {
      assertThat(unit.stale(tracker())).isEmpty();
      assertThatThrownBy(() -> store().begin()).isInstanceOf(IllegalStateException.class);
    }
    assertThat(stale()).isEmpty();
  }

  @Test
  default void aClosedUnitDoesNoMoreWork() {
    Unit unit = store().begin();
    unit.close();
    unit.close();
    assertThatThrownBy(() -> unit.samples(tracker(), 0, 1))
        .isInstanceOf(IllegalStateException.class);
    assertThatThrownBy(unit::commit).isInstanceOf(IllegalStateException.class);
  }

  @Test
  default void staleSecondsAreJoinedUntilCleared() {
    run(u -> u.markStale(Map.of(tracker(), StaleRange.of(50))));
    run(u -> u.markStale(Map.of(tracker(), new StaleRange(40, 45))));
    run(u -> u.markStale(Map.of(tracker(), StaleRange.of(60))));
    assertThat(stale()).contains(new StaleRange(40, 60));
    assertThatList(read(Unit::staleTrackers)).contains(tracker());
    run(u -> u.clearStale(tracker()));
    assertThat(stale()).isEmpty();
    assertThatList(read(Unit::staleTrackers)).doesNotContain(tracker());
  }

  @Test
  default void aLookIsOpenBesideAUnitAndSeesWhatWasCommitted() {
    write(List.of(sample(0)));
    try (SoakStore.Reader reader = store().reader();
        Unit unit = store().begin()) {
      assertThatList(reader.samples(tracker(), 0, Long.MAX_VALUE)).hasSize(1);
      unit.writeSamples(List.of(sample(10)));
      unit.writeSoak(soak("a", 0, 10, null));
      unit.markStale(Map.of(tracker(), StaleRange.of(3)));
      unit.commit();
      assertThatList(reader.samples(tracker(), 0, Long.MAX_VALUE)).hasSize(2);
      assertThatList(reader.soaks(tracker(), 0)).hasSize(1);
      assertThat(reader.stale(tracker())).contains(StaleRange.of(3));
    }
    run(u -> u.clearStale(tracker()));
  }

  private Optional<StaleRange> stale() {
    return read(u -> u.stale(tracker()));
  }
}
