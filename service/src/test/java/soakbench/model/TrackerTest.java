package soakbench.model;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.model.Tracker.Power;
import soakbench.model.Tracker.Rates;

class TrackerTest {
  @ParameterizedTest
  @ValueSource(strings = {"T-0412", "a", "...", ".a", "24:6f:28:aa:00:01", "A_b.9"})
  void theseAreIds(String id) {
    assertThat(Tracker.isId(id)).isTrue();
    assertThat(Tracker.unknown(id).name()).isEqualTo(id);
  }

  @ParameterizedTest
  @ValueSource(strings = {"", ".", "..", "a b", "a/b", "ä", "T\n", "@"})
  void theseAreNone(String id) {
    assertThat(Tracker.isId(id)).isFalse();
    assertThatThrownBy(() -> Tracker.unknown(id))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("\"" + id + "\"")
        .hasMessageContaining(Tracker.ID_RULE);
  }

  @Test
  void anIdHasAtMost64Letters() {
    assertThat(Tracker.isId("x".repeat(64))).isTrue();
    assertThat(Tracker.isId("x".repeat(65))).isFalse();
    assertThat(Tracker.isId(null)).isFalse();
  }

  @Test
  void whatNobodySaidIsEmptyOrUnknownAndTheNameIsTheId() {
    Tracker tracker =
        new Tracker("T-1", "  ", null, " B ", null, null, null, null, null, 0.2, null);
    assertThat(tracker)
        .isEqualTo(
            new Tracker("T-1", "T-1", "", "B", "", "", "", Power.UNKNOWN, Rates.UNKNOWN, 0.2, ""));
  }

  @Test
  void whatIsTakenOffIsReadByItsWordAlsoByOneOfBefore() {
    for (Rates rates : Rates.values()) {
      assertThat(Rates.of(rates.word())).contains(rates);
    }
    assertThat(Rates.words()).containsExactly("raw", "constant", "follows", "unknown");
    assertThat(Rates.of("corrected")).contains(Rates.UNKNOWN);
    assertThat(Rates.of("cooked")).isEmpty();
  }
}
