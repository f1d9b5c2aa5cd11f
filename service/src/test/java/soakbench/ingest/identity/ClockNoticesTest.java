package soakbench.ingest.identity;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import soakbench.LogLines;

class ClockNoticesTest {
  private static final long SECOND = 1_000_000;
  private static final long NOW = 1_772_352_000 * SECOND;

  private final ClockNotices told = new ClockNotices("T-1");

  @Test
  void aClockThatCannotBeRightIsToldForTenSeconds() {
    assertThat(told.notice(0)).isEmpty();
    told.wrong(NOW + 12_000 * SECOND, NOW, 0);
    assertThat(told.notice(10 * SECOND - 1))
        .contains("T-1's clock is 3 h 20 min ahead: times are taken from arrival");
    assertThat(told.notice(10 * SECOND)).isEmpty();
    told.wrong(NOW - 50 * SECOND, NOW, 0);
    assertThat(told.notice(1)).contains("T-1's clock is 50 s behind: times are taken from arrival");
  }

  @Test
  void aClockThatWasSetIsToldForTenMinutes() {
    told.set(-723 * SECOND, NOW, 0);
    assertThat(told.notice(600 * SECOND - 1))
        .contains(
            "T-1's clock was set back by 12 min 3 s at 2026-03-01T08:00:00Z; times go on evenly");
    assertThat(told.notice(600 * SECOND)).isEmpty();
    told.set(50 * SECOND, NOW + 999_999, 0);
    assertThat(told.notice(1))
        .contains(
            "T-1's clock was set forward by 50 s at 2026-03-01T08:00:00Z; times go on evenly");
  }

  @Test
  void whatIsWrongNowComesBeforeWhatWasSet() {
    told.set(50 * SECOND, NOW, 0);
    told.wrong(NOW + 50 * SECOND, NOW, 0);
    assertThat(told.notice(1).orElseThrow()).contains("ahead");
    assertThat(told.notice(20 * SECOND).orElseThrow()).contains("was set forward");
  }

  @Test
  void aClockThatJumpsToAndFroIsLoggedOnceInTenMinutes() {
    try (LogLines log = new LogLines(ClockNotices.class.getName())) {
      for (int i = 0; i <= 600; i++) {
        told.set((i % 2 == 0 ? 60 : -60) * SECOND, NOW, i * SECOND);
      }
      assertThat(log.lines()).hasSize(1);
      told.wrong(NOW, NOW + SECOND, 601 * SECOND);
      assertThat(log.lines()).hasSize(2);
    }
  }
}
