package soakbench.ingest.sending;

import java.time.Duration;
import java.util.random.RandomGenerator;

/**
 * How long to wait before the next try: twice as long each time, and never quite the same, so that
 * many agents don't come back at one moment. Not for use by several threads at once.
 */
final class Backoff {
  private static final long FIRST_MS = 250;
  private static final long LONGEST_MS = 2000;

  private final RandomGenerator random;
  private long nextMs = FIRST_MS;

  Backoff(RandomGenerator random) {
    this.random = random;
  }

  /** The next pause: half of it fixed, half by chance. */
  Duration next() {
    long pauseMs = nextMs / 2 + random.nextLong(nextMs / 2 + 1);
    nextMs = Math.min(LONGEST_MS, 2 * nextMs);
    return Duration.ofMillis(pauseMs);
  }

  /** Begins anew, after a success. */
  void reset() {
    nextMs = FIRST_MS;
  }
}
