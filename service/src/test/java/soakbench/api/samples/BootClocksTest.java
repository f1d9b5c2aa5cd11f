package soakbench.api.samples;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;

class BootClocksTest {
  private static final long LATEST_US = Long.MAX_VALUE;

  private final BootClocks clocks = new BootClocks();

  @Test
  void aBootThatWasNeverHeardHasNoTime() {
    assertThat(clocks.timeUs("T-1", "b", 5, LATEST_US)).isEmpty();
  }

  @Test
  void readingsBeforeAndAfterTheFixedOneArePlacedByTheirCounter() {
    clocks.fix("T-1", "b", 5_000, 100_000_000);
    assertThat(clocks.timeUs("T-1", "b", 4_000, LATEST_US)).hasValue(99_000_000);
    assertThat(clocks.timeUs("T-1", "b", 6_500, LATEST_US)).hasValue(101_500_000);
    assertThat(clocks.timeUs("T-1", "other", 6_500, LATEST_US)).isEmpty();
    assertThat(clocks.timeUs("T-2", "b", 6_500, LATEST_US)).isEmpty();
  }

  @Test
  void aFixedBootIsNotFixedAgain() {
    clocks.fix("T-1", "b", 5_000, 100_000_000);
    clocks.fix("T-1", "b", 5_000, 200_000_000);
    assertThat(clocks.timeUs("T-1", "b", 5_000, LATEST_US)).hasValue(100_000_000);
  }

  @Test
  void theCounterMayWrap() {
    long beforeWrap = (1L << 32) - 1_000;
    clocks.fix("T-1", "b", beforeWrap, 100_000_000);
    assertThat(clocks.timeUs("T-1", "b", 500, LATEST_US)).hasValue(101_500_000);
    assertThat(clocks.timeUs("T-1", "b", beforeWrap, LATEST_US)).hasValue(100_000_000);
  }

  @Test
  void itMayRunForManyWraps() {
    long timeUs = 0;
    clocks.fix("T-1", "b", 0, timeUs);
    long stepMs = 1L << 30;
    for (long ms = stepMs; ms < 20 * (1L << 32); ms += stepMs) {
      assertThat(clocks.timeUs("T-1", "b", ms & 0xFFFF_FFFFL, LATEST_US)).hasValue(ms * 1000);
    }
  }

  @Test
  void aTimeThatCannotBeIsNotGivenAndMovesNothing() {
    clocks.fix("T-1", "b", 5_000, 100_000_000);
    assertThat(clocks.timeUs("T-1", "b", 9_000, 103_999_999)).isEmpty();
    assertThat(clocks.timeUs("T-1", "b", 9_000, 104_000_000)).hasValue(104_000_000);
    for (long garbledMs = 1L << 30; garbledMs < 3L << 30; garbledMs += 1L << 29) {
      clocks.timeUs("T-1", "b", garbledMs, 105_000_000);
    }
    assertThat(clocks.timeUs("T-1", "b", 10_000, 105_000_000)).hasValue(105_000_000);
  }
}
