package soakbench.live.watch;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.List;
import org.junit.jupiter.api.Test;
import soakbench.live.Samples;
import soakbench.live.SoakStore;
import soakbench.live.StoreContents;
import soakbench.live.memory.MemoryStore;
import soakbench.model.Limits;
import soakbench.model.Sample;

/** The store of a replay keeps the last minute of samples, and is never wrong about the others. */
class ForgetfulStoreTest {
  private static final List<Sample> RUN = new Samples.Maker().lines(300).samples();
  private static final long END_US = Samples.START_US + 300_000_000L;

  private final MemoryStore store = MemoryStore.forgetful();
  private final SoakWatch watch = new SoakWatch(store, Limits.DEFAULT, () -> 0);

  private void replay() {
    for (int from = 0; from < RUN.size(); from += 10) {
      watch.accept(RUN.subList(from, from + 10));
    }
    watch.finish();
  }

  @Test
  void whatIsDerivedIsTheSame() {
    replay();
    StoreContents.of(store, Samples.TRACKER).isSameAs(StoreContents.replayed(RUN));
  }

  @Test
  void onlyTheLastMinuteIsKept() {
    replay();
    assertThat(store.tables.samples.get(Samples.TRACKER)).hasSizeBetween(600, 610);
    try (SoakStore.Unit unit = store.begin()) {
      assertThat(unit.samples(Samples.TRACKER, END_US - 50_000_000, END_US)).hasSize(500);
    }
  }

  @Test
  void whoAsksForWhatIsForgottenIsToldSo() {
    replay();
    try (SoakStore.Unit unit = store.begin()) {
      assertThatThrownBy(() -> unit.samples(Samples.TRACKER, Samples.START_US, END_US))
          .isInstanceOf(IllegalStateException.class)
          .hasMessageContaining("no longer kept");
      assertThatThrownBy(() -> unit.writeSamples(RUN.subList(0, 1)))
          .isInstanceOf(IllegalStateException.class)
          .hasMessageContaining("no longer kept");
    }
  }

  @Test
  void anotherTrackersSamplesAreNotForgottenWithThem() {
    List<Sample> other = new Samples.Maker().named("T-0413").lines(10).samples();
    watch.accept(other);
    replay();
    try (SoakStore.Unit unit = store.begin()) {
      assertThat(unit.samples("T-0413", Samples.START_US, END_US)).isEqualTo(other);
    }
  }
}
