package soakbench.host;

import java.time.Duration;
import java.util.random.RandomGenerator;

/**
 * How long to wait before the next try: twice as long each time up to a longest, and never quite
 * the same, so that many programs don't come back at one moment. Not thread-safe.
 */
public final class Backoff {
  private final long firstMs;
  private final long longestMs;
  private final RandomGenerator random;
  private long nextMs;

  /**
   * @param first the first pause at most
   * @param longest what no pause exceeds
   */
  public Backoff(Duration first, Duration longest, RandomGenerator random) {
    this.firstMs = first.toMillis();
    this.longestMs = longest.toMillis();
    this.random = random;
    this.nextMs = firstMs;
  }

  /** The next pause: half of it fixed, half by chance. */
  public Duration next() {
    long pauseMs = nextMs / 2 + random.nextLong(nextMs / 2 + 1);
    nextMs = Math.min(longestMs, 2 * nextMs);
    return Duration.ofMillis(pauseMs);
  }

  /** Begins anew, after a success. */
  public void reset() {
    nextMs = firstMs;
  }
}
