package soakbench.api.samples;

import java.util.Collection;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.function.Supplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.host.Daemons;
import soakbench.live.StoreException;

/**
 * The ids that are trackers already: those that had a soak, are in the roster, or were admitted.
 * Read once before the first lookup, later on a thread of its own, so that no lookup waits for it.
 * Thread-safe.
 */
public final class KnownTrackers implements AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(KnownTrackers.class);
  private static final long AGAIN_AFTER_NS = TimeUnit.SECONDS.toNanos(5);

  private final Supplier<Collection<String>> stored;
  private final Set<String> known = ConcurrentHashMap.newKeySet();
  private final AtomicBoolean reading = new AtomicBoolean();
  private final ExecutorService reader =
      Executors.newSingleThreadExecutor(Daemons.named("known trackers"));
  private volatile boolean read;
  private volatile long triedAtNs;

  /**
   * @param stored all ids that the store knows
   */
  public KnownTrackers(Supplier<Collection<String>> stored) {
    this.stored = stored;
  }

  /**
   * Reads the store.
   *
   * @throws StoreException if it can't be read
   */
  public void read() {
    triedAtNs = System.nanoTime();
    known.addAll(stored.get());
    read = true;
  }

  /** Whether the store was read; until then an id that is not known may still be a tracker. */
  boolean isRead() {
    return read;
  }

  /** Whether an id is one of them. */
  public boolean has(String id) {
    if (known.contains(id)) {
      return true;
    }
    if (!read && System.nanoTime() - triedAtNs > AGAIN_AFTER_NS) {
      readAgain();
    }
    return false;
  }

  void add(String id) {
    known.add(id);
  }

  /** Has the store read again, soon; for when the roster changed. */
  public void readAgain() {
    triedAtNs = System.nanoTime();
    if (!reader.isShutdown() && reading.compareAndSet(false, true)) {
      reader.execute(this::relearn);
    }
  }

  private void relearn() {
    // Before it is read, so that a change made meanwhile has it read once more.
    reading.set(false);
    try {
      read();
    } catch (StoreException e) {
      LOG.debug("which trackers are known could not be read; tried again soon", e);
    }
  }

  @Override
  public void close() {
    reader.shutdownNow();
  }
}
