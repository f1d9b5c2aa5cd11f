package soakbench.api.events;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import soakbench.model.State;
import soakbench.readiness.Readiness;

class VerdictThrottleTest {
  private static final long MS = TimeUnit.MILLISECONDS.toNanos(1);

  /** Near the end of the range, where a clock may stand as well. */
  private static final long START_NS = Long.MAX_VALUE - 300 * MS;

  private final VerdictThrottle figures = new VerdictThrottle();

  private static Readiness verdict(String tracker, long asOfUs) {
    return new Readiness(
        tracker,
        "soak",
        new Readiness.Standing(State.WARMING, 0, null, null, List.of(), ""),
        new Readiness.Figures(asOfUs, null, null, null, List.of()),
        Readiness.ReadyTime.unknown(""),
        null,
        null);
  }

  private List<String> taken(long afterMs) {
    return figures.taken(START_NS + afterMs * MS).stream()
        .map(r -> r.tracker() + "@" + r.asOfUs())
        .toList();
  }

  private void note(String tracker, long asOfUs, long afterMs) {
    figures.note(verdict(tracker, asOfUs), START_NS + afterMs * MS);
  }

  @Test
  void whatComesWithinAMomentIsToldTogether() {
    note("A", 1, 0);
    note("B", 1, 15);
    assertThat(figures.dueInNs(START_NS + 15 * MS)).isEqualTo(5 * MS);
    assertThat(taken(19)).isEmpty();
    assertThat(taken(90)).containsExactly("A@1", "B@1");
    assertThat(figures.dueInNs(START_NS + 90 * MS)).isEqualTo(Long.MAX_VALUE);
  }

  @Test
  void ofOneTrackerOnlyTheNewestVerdictOfHalfASecondIsTold() {
    note("A", 1, 0);
    assertThat(taken(50)).containsExactly("A@1");
    for (int us = 2; us < 10; us++) {
      note("A", us, 50 + us);
    }
    note("B", 1, 100);
    assertThat(taken(150)).containsExactly("B@1");
    assertThat(taken(549)).isEmpty();
    assertThat(taken(550)).containsExactly("A@9");
  }

  @Test
  void oneVerdictASecondNeverWaitsLongerThanTheGathering() {
    for (int second = 0; second < 20; second++) {
      // Up to 400 ms early or late, as batches fall.
      long at = 1000L * second + (second % 3) * 200;
      note("A", second, at);
      assertThat(taken(at + 20)).containsExactly("A@" + second);
    }
  }
}
