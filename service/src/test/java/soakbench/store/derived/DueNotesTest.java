package soakbench.store.derived;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;
import soakbench.store.derived.DueNotes.Taken;

class DueNotesTest {
  private final DueNotes notes = new DueNotes();

  @Test
  void atTheStartAllAreLookedAtAndThenOnlyWhatIsNoted() {
    assertThat(notes.take().all()).isTrue();
    assertThat(notes.take().nothing()).isTrue();
    notes.soaks(List.of("A@1"));
    notes.trackers(List.of("B"));
    Taken taken = notes.take();
    assertThat(taken.all()).isFalse();
    assertThat(taken.soaks()).containsExactly("A@1");
    assertThat(taken.trackers()).containsExactly("B");
    assertThat(notes.take().nothing()).isTrue();
  }

  @Test
  void whatCouldNotBeLookedAtIsNotedAgain() {
    notes.soaks(List.of("A@1"));
    Taken first = notes.take();
    notes.soaks(List.of("A@2"));
    notes.giveBack(first);
    Taken again = notes.take();
    assertThat(again.all()).isTrue();
    assertThat(again.soaks()).containsExactlyInAnyOrder("A@1", "A@2");
  }

  @Test
  void aRowThatCannotBeReadIsNewsOnceAndForgottenWhenItIsKeptAnew() {
    assertThat(notes.unreadable("A@1")).isTrue();
    assertThat(notes.unreadable("A@1")).isFalse();
    notes.readable("A@1");
    assertThat(notes.unreadable()).isEmpty();
    assertThat(notes.unreadable("A@1")).isTrue();
  }
}
