package soakbench.store.connection;

import java.util.Optional;
import java.util.concurrent.TimeUnit;

/**
 * Whether the right to write lies there for whoever stands by: found free for longer, in a row,
 * than a living writer needs to take it again after its connection was lost. One thread tells it,
 * any may ask.
 */
public final class Abandoned {
  private static final long FREE_FOR_NS = TimeUnit.SECONDS.toNanos(5);

  private volatile boolean free;
  private long sinceNs;

  /** What was found now; returns whether it has been free for long enough. */
  public boolean found(Optional<Writer> writer, long nowNs) {
    if (writer.isPresent()) {
      free = false;
    } else if (!free) {
      free = true;
      sinceNs = nowNs;
    }
    return free && nowNs - sinceNs >= FREE_FOR_NS;
  }

  /** The server did not say. */
  public void unknown() {
    free = false;
  }

  /** Whether it was free when last looked at. */
  public boolean isFree() {
    return free;
  }
}
