package soakbench.store.connection;

import java.util.Optional;
import java.util.concurrent.TimeUnit;

/**
 * Whether a standby may take the right to write: it was free without interruption for longer than a
 * living writer needs to take it again after its connection was lost. Thread-safe.
 */
public final class WriterAbsence {
  private static final long FREE_FOR_NS = TimeUnit.SECONDS.toNanos(5);

  private volatile boolean free;
  private long sinceNs;

  /** What was found now; returns whether it has been free for long enough. */
  public synchronized boolean found(Optional<Lease> writer, long nowNs) {
    if (writer.isPresent()) {
      free = false;
    } else if (!free) {
      free = true;
      sinceNs = nowNs;
    }
    return free && nowNs - sinceNs >= FREE_FOR_NS;
  }

  /** The server did not answer. */
  public synchronized void unknown() {
    free = false;
  }

  /** Whether it was free at the last check. */
  public boolean isFree() {
    return free;
  }
}
