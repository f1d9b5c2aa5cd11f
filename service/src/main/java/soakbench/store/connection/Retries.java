package soakbench.store.connection;

import java.util.concurrent.TimeUnit;
import java.util.function.Supplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.live.StoreException;

/** Retries a step of the start while the store is away. */
public final class Retries {
  private static final Logger LOG = LoggerFactory.getLogger(Retries.class);
  private static final long FIRST_PAUSE_MS = 250;
  private static final long LONGEST_PAUSE_MS = 3_000;

  private Retries() {}

  /**
   * Tries until it succeeds; each new reason is logged once.
   *
   * @throws StoreException where waiting can't help, or this thread is interrupted
   */
  public static <T> T untilThere(Supplier<T> step) {
    String logged = "";
    long pauseMs = FIRST_PAUSE_MS;
    while (true) {
      try {
        return step.get();
      } catch (StoreException e) {
        if (!e.transientFault() || Thread.currentThread().isInterrupted()) {
          throw e;
        }
        if (!logged.equals(e.getMessage())) {
          logged = e.getMessage();
          LOG.warn("{}; trying again", logged);
        }
        pause(pauseMs, e);
        pauseMs = Math.min(2 * pauseMs, LONGEST_PAUSE_MS);
      }
    }
  }

  private static void pause(long ms, StoreException cause) {
    if (!slept(ms)) {
      throw cause;
    }
  }

  /** Waits; returns false where this thread is interrupted, and leaves it so. */
  public static boolean slept(long ms) {
    try {
      TimeUnit.MILLISECONDS.sleep(ms);
      return true;
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      return false;
    }
  }
}
