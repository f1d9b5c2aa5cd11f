package soakbench.demo;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

class DemoClockTest {
  private static final long TICK_NS = 20_000_000L;
  private static final long SIX_HOURS_US = 6 * 3_600_000_000L;

  @Test
  void itHurriesThroughThePastAndThenKeepsToRealTime() {
    DemoClock clock = new DemoClock(0, SIX_HOURS_US, 30);
    double metS = SIX_HOURS_US / 1e6 / 29;
    assertThat(at(clock, 0, metS / 2) / 1e6).isCloseTo(30 * metS / 2, within(1.0));
    double later = at(clock, metS / 2, metS + 600) / 1e6;
    assertThat(later).isCloseTo(SIX_HOURS_US / 1e6 + metS + 600, within(TICK_NS / 1e9));
  }

  @Test
  void itNeverRunsIntoTheFuture() {
    DemoClock clock = new DemoClock(0, 100_000_000L, 200);
    for (long ns = TICK_NS; ns < 20_000_000_000L; ns += TICK_NS) {
      assertThat(clock.advance(ns)).isLessThanOrEqualTo(100_000_000L + ns / 1000);
    }
  }

  @Test
  void aSleepOfTheComputerIsNotPlayedInOneGo() {
    DemoClock clock = new DemoClock(0, SIX_HOURS_US, 30);
    clock.advance(TICK_NS);
    assertThat(clock.advance(3_600_000_000_000L)).isLessThanOrEqualTo(16_000_000L);
  }

  @Test
  void whatIsNotYetWrittenIsNotYetTold() {
    DemoClock clock = new DemoClock(5, SIX_HOURS_US, 30);
    long now = clock.advance(TICK_NS);
    assertThat(clock.nowUs()).isEqualTo(5);
    clock.publish(now);
    assertThat(clock.nowUs()).isEqualTo(now);
  }

  private static double at(DemoClock clock, double fromS, double toS) {
    long now = 0;
    for (long ns = (long) (fromS * 1e9) + TICK_NS; ns <= toS * 1e9; ns += TICK_NS) {
      now = clock.advance(ns);
    }
    return now;
  }
}
