package soakbench.demo;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.concurrent.atomic.AtomicLong;
import org.junit.jupiter.api.Test;

class DemoPaceTest {
  private static final long S_US = 1_000_000L;
  private static final long S_NS = 1_000_000_000L;

  private final AtomicLong taken = new AtomicLong();
  private final DemoPace pace = new DemoPace(taken::get);

  @Test
  void timeGoesOnWhileSamplesAreTakenIn() {
    for (int s = 0; s < 600; s++) {
      taken.addAndGet(s % 7 == 0 ? 70 : 0);
      assertThat(pace.rests(s * S_US, s * S_NS / 30)).isFalse();
    }
  }

  @Test
  void timeRestsBeforeALateReaderMakesTrackersLookSilent() {
    assertThat(pace.rests(0, 0)).isFalse();
    assertThat(pace.rests(7 * S_US, S_NS / 4)).isFalse();
    assertThat(pace.rests(8 * S_US, S_NS / 3)).isTrue();
    assertThat(pace.rests(8 * S_US, S_NS)).isTrue();
    taken.incrementAndGet();
    assertThat(pace.rests(8 * S_US, S_NS)).isFalse();
    assertThat(pace.rests(15 * S_US, 2 * S_NS)).isFalse();
    assertThat(pace.rests(16 * S_US, 2 * S_NS)).isTrue();
  }

  @Test
  void timeGoesOnAfterThreeSecondsWhereNobodyReads() {
    assertThat(pace.rests(0, 0)).isFalse();
    assertThat(pace.rests(9 * S_US, S_NS)).isTrue();
    assertThat(pace.rests(9 * S_US, 4 * S_NS - 1)).isTrue();
    assertThat(pace.rests(9 * S_US, 4 * S_NS)).isFalse();
    assertThat(pace.rests(60 * S_US, 6 * S_NS)).isFalse();
  }
}
