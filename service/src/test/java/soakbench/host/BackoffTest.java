package soakbench.host;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

class BackoffTest {
  private final Backoff backoff =
      new Backoff(Duration.ofMillis(250), Duration.ofSeconds(2), new SplittableRandom(1));

  @Test
  void pausesDoubleUpToTheLongestAndHalfOfEachIsChance() {
    long[] most = {250, 500, 1000, 2000, 2000, 2000};
    for (long ms : most) {
      assertThat(backoff.next()).isBetween(Duration.ofMillis(ms / 2), Duration.ofMillis(ms));
    }
  }

  @Test
  void aSuccessBeginsAnew() {
    for (int i = 0; i < 5; i++) {
      backoff.next();
    }
    backoff.reset();
    assertThat(backoff.next()).isLessThanOrEqualTo(Duration.ofMillis(250));
  }
}
