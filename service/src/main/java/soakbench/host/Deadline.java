package soakbench.host;

import java.time.Duration;
import java.util.concurrent.TimeUnit;

/** A moment by which something should be done, on a clock that never steps. */
public record Deadline(long atNs) {

  /** So long from now. */
  public static Deadline in(Duration time) {
    return new Deadline(System.nanoTime() + time.toNanos());
  }

  /** So many milliseconds from now. */
  public static Deadline inMs(long ms) {
    return in(Duration.ofMillis(ms));
  }

  public boolean isOver() {
    return System.nanoTime() - atNs >= 0;
  }

  /** What is left, ms; at least 1, as 0 means for ever to those who wait. */
  public long leftMs() {
    return Math.max(1, TimeUnit.NANOSECONDS.toMillis(atNs - System.nanoTime()));
  }
}
