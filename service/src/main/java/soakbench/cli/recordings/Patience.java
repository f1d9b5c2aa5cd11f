package soakbench.cli.recordings;

import java.time.Duration;
import java.util.concurrent.ThreadLocalRandom;
import soakbench.host.Backoff;
import soakbench.host.Deadline;

/** Waits between tries, longer each time, until it has waited for long enough. Not thread-safe. */
final class Patience {
  private final Deadline deadline;
  private final Backoff backoff =
      new Backoff(Duration.ofMillis(500), Duration.ofSeconds(5), ThreadLocalRandom.current());

  /**
   * @param length for how long from now
   */
  Patience(Duration length) {
    this.deadline = Deadline.inMs(length.toMillis());
  }

  /** Waits for a while; false, at once, where it is over or the thread was interrupted. */
  boolean waits() {
    if (deadline.isOver()) {
      return false;
    }
    try {
      Thread.sleep(backoff.next().toMillis());
      return true;
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      return false;
    }
  }
}
