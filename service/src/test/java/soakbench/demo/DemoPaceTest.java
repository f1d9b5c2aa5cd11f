package soakbench.demo;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;

class DemoPaceTest {
  private static final long S_US = 1_000_000L;
  private static final long S_NS = 1_000_000_000L;

  private final DemoPace pace = new DemoPace(0, 30);

  @Test
  void timeGoesOnWhileSamplesAreHeard() {
    for (int s = 0; s < 600; s++) {
      if (s % 7 == 0) {
        pace.heard(s * S_US);
      }
      assertThat(pace.rests(s * S_US, s * S_NS / 30)).isFalse();
    }
  }

  @Test
  void timeRestsUntilALateReaderHasComeNearer() {
    assertThat(pace.rests(11 * S_US, S_NS / 3)).isFalse();
    assertThat(pace.rests(12 * S_US, S_NS / 2)).isTrue();
    assertThat(pace.rests(12 * S_US, S_NS)).isTrue();
    pace.heard(5 * S_US);
    assertThat(pace.rests(12 * S_US, S_NS)).isFalse();
    assertThat(pace.rests(17 * S_US, 2 * S_NS)).isTrue();
  }

  @Test
  void timeGoesOnAfterThreeSecondsWhereNobodyReads() {
    assertThat(pace.rests(12 * S_US, S_NS)).isTrue();
    assertThat(pace.rests(12 * S_US, 4 * S_NS - 1)).isTrue();
    assertThat(pace.rests(12 * S_US, 4 * S_NS)).isFalse();
    assertThat(pace.rests(60 * S_US, 6 * S_NS)).isFalse();
  }

  @Test
  void noTimeIsKnownBeforeItsSamplesExceptLate() {
    pace.heard(100 * S_US);
    assertThat(pace.known(111 * S_US)).isEqualTo(100 * S_US);
    assertThat(pace.known(200 * S_US)).isEqualTo(188 * S_US);
    pace.heard(90 * S_US);
    assertThat(pace.known(100 * S_US)).isEqualTo(100 * S_US);
  }
}
