package soakbench.store.derived;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;
import soakbench.store.derived.DirtySoaks.Batch;

class DirtySoaksTest {
  private final DirtySoaks dirty = new DirtySoaks();

  @Test
  void atTheStartAllAreLookedAtAndThenOnlyWhatIsNoted() {
    assertThat(dirty.take().all()).isTrue();
    assertThat(dirty.take().nothing()).isTrue();
    dirty.soaks(List.of("A@1"));
    dirty.trackers(List.of("B"));
    Batch taken = dirty.take();
    assertThat(taken.all()).isFalse();
    assertThat(taken.soaks()).containsExactly("A@1");
    assertThat(taken.trackers()).containsExactly("B");
    assertThat(dirty.take().nothing()).isTrue();
  }

  @Test
  void whatCouldNotBeLookedAtIsNotedAgain() {
    dirty.soaks(List.of("A@1"));
    Batch first = dirty.take();
    dirty.soaks(List.of("A@2"));
    dirty.giveBack(first);
    Batch again = dirty.take();
    assertThat(again.all()).isTrue();
    assertThat(again.soaks()).containsExactlyInAnyOrder("A@1", "A@2");
  }

  @Test
  void aRowThatCannotBeReadIsNewsOnceAndForgottenWhenItIsKeptAnew() {
    assertThat(dirty.unreadable("A@1")).isTrue();
    assertThat(dirty.unreadable("A@1")).isFalse();
    dirty.readable("A@1");
    assertThat(dirty.unreadable()).isEmpty();
    assertThat(dirty.unreadable("A@1")).isTrue();
  }
}
