package soakbench.api.http;

import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.locks.ReentrantLock;
import java.util.function.Function;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.host.Daemons;
import soakbench.live.StoreException;
import soakbench.model.Tracker;

/**
 * A cache of the roster, a few seconds old at most: the live answers need it every second, and must
 * go on with the last known names while the database is away.
 */
public final class TrackerNames {
  private static final Logger LOG = LoggerFactory.getLogger(TrackerNames.class);
  private static final long KEEP_NS = TimeUnit.SECONDS.toNanos(5);

  private static final long SOON_MS = 300;

  /** The first read, while nothing is cached, may take longer. */
  private static final long FIRST_MS = 3_000;

  /** A thread for each read that hangs, and none where nobody reads. */
  private static final ExecutorService READERS =
      Executors.newCachedThreadPool(Daemons.named("roster"));

  private final AtomicBoolean asking = new AtomicBoolean();
  private final Supplier<List<Tracker>> roster;
  private final ReentrantLock reading = new ReentrantLock();
  private volatile Map<String, Tracker> known = Map.of();
  private volatile long readAtNs;
  private volatile boolean fresh;
  private volatile boolean everRead;

  /** True while the roster can't be read; logged once. */
  private boolean stale;

  public TrackerNames(Supplier<List<Tracker>> roster) {
    this.roster = roster;
  }

  /** The name of a tracker; its id where the roster does not know it. */
  public String of(String tracker) {
    return field(tracker, Tracker::name, tracker);
  }

  /** Whether the roster knows a tracker. */
  public boolean lists(String tracker) {
    return soonKnown().containsKey(tracker);
  }

  /** The listed trackers, in no order. */
  public Collection<Tracker> all() {
    return soonKnown().values();
  }

  /** The roster's entry of a tracker; one that only has an id where the roster does not know it. */
  public Tracker entry(String tracker) {
    Tracker found = soonKnown().get(tracker);
    return found == null ? Tracker.unknown(tracker) : found;
  }

  /**
   * How many trackers the roster puts into each lot, by lot. Waits for a roster that is being read:
   * a lot that was listed a moment ago must not be refused.
   *
   * @throws StoreException if the roster could not be read yet
   */
  public SortedMap<String, Integer> lots() {
    SortedMap<String, Integer> lots = new TreeMap<>();
    read().values().stream()
        .filter(t -> !t.lot().isEmpty())
        .forEach(t -> lots.merge(t.lot(), 1, Integer::sum));
    return lots;
  }

  /** The rack of a tracker; empty where none is known. */
  public String rackOf(String tracker) {
    return field(tracker, Tracker::rack, "");
  }

  /** The lot of a tracker; empty where none is known. */
  public String lotOf(String tracker) {
    return field(tracker, Tracker::lot, "");
  }

  /** Where the roster puts a tracker; null where it does not say. */
  public String slotOf(String tracker) {
    String slot = field(tracker, Tracker::slot, "");
    return slot.isEmpty() ? null : slot;
  }

  private String field(String tracker, Function<Tracker, String> what, String otherwise) {
    Tracker found = soonKnown().get(tracker);
    return found == null ? otherwise : what.apply(found);
  }

  /**
   * What the roster declares of a tracker's rates, which is stored with its soak: so the first read
   * of the roster is waited for.
   *
   * @throws StoreException if the roster could not be read yet
   */
  public Tracker.Rates ratesOf(String tracker) {
    Tracker found = (everRead ? soonKnown() : read()).get(tracker);
    return found == null ? Tracker.Rates.UNKNOWN : found.rates();
  }

  /**
   * What is to be added to a tracker's temperatures, degC; 0 where the roster does not say. Waits
   * for a roster that is being read, since what is stored depends on it.
   *
   * @throws StoreException if the roster could not be read yet
   */
  public double temperatureOffsetCOf(String tracker) {
    Tracker found = read().get(tracker);
    return found == null ? 0 : found.temperatureOffsetC();
  }

  /**
   * Reads the roster in advance.
   *
   * @throws StoreException if it could not be read yet
   */
  public void readFirst() {
    // A read that was tried before the store was open does not count.
    forget();
    read();
  }

  private Map<String, Tracker> read() {
    readNow();
    if (!everRead) {
      fresh = false;
      throw new StoreException("the roster could not be read yet; it is tried again", null, true);
    }
    return known;
  }

  private void readNow() {
    reading.lock();
    try {
      readIfOld();
    } finally {
      reading.unlock();
    }
  }

  /** The same by the roster as it was last read, at once. */
  public double lastKnownOffsetCOf(String tracker) {
    Tracker found = known.get(tracker);
    return found == null ? 0 : found.temperatureOffsetC();
  }

  /** Drops the cache, so that the next call reads the roster again. */
  public void forget() {
    fresh = false;
  }

  /**
   * The roster; the one read before where that is not done soon: no answer about trackers may wait
   * for a database that hangs.
   */
  private Map<String, Tracker> soonKnown() {
    if (isOld() && asking.compareAndSet(false, true)) {
      CompletableFuture<Void> read = new CompletableFuture<>();
      READERS.execute(() -> readApart(read));
      try {
        read.get(known.isEmpty() ? FIRST_MS : SOON_MS, TimeUnit.MILLISECONDS);
      } catch (TimeoutException e) {
        LOG.debug("The roster is not read yet");
      } catch (InterruptedException e) {
        Thread.currentThread().interrupt();
      } catch (ExecutionException e) {
        // An alarm must be published, if by an old name; the read logs its failure.
        LOG.debug("The roster can't be read", e);
      }
    }
    return known;
  }

  private void readApart(CompletableFuture<Void> read) {
    reading.lock();
    try {
      readIfOld();
      read.complete(null);
    } catch (RuntimeException e) {
      if (!stale) {
        LOG.error("Names stay as they were last read, by a mistake of the program", e);
      }
      stale = true;
      read.completeExceptionally(e);
    } finally {
      reading.unlock();
      asking.set(false);
    }
  }

  private boolean isOld() {
    return !fresh || System.nanoTime() - readAtNs > KEEP_NS;
  }

  private void readIfOld() {
    if (!isOld()) {
      return;
    }
    // Before it is read, so that a change made meanwhile has it read again.
    fresh = true;
    readAtNs = System.nanoTime();
    try {
      known = roster.get().stream().collect(Collectors.toUnmodifiableMap(Tracker::id, t -> t));
      everRead = true;
      stale = false;
    } catch (StoreException e) {
      if (!stale) {
        LOG.warn("Names stay as they were last read: {}", e.getMessage());
      }
      stale = true;
    }
  }
}
