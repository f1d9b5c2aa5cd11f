package soakbench.api;

import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.live.StoreException;
import soakbench.model.Tracker;

/**
 * What the roster says of each tracker, kept for a few seconds: the live answers need it every
 * second, and must go on with the last known names while the database is away.
 */
final class Names {
  private static final Logger LOG = LoggerFactory.getLogger(Names.class);
  private static final long KEEP_NS = TimeUnit.SECONDS.toNanos(5);

  private final Supplier<List<Tracker>> roster;
  private Map<String, Tracker> known = Map.of();
  private long readAtNs;
  private boolean fresh;

  /** True while the roster can't be read; said once. */
  private boolean stale;

  Names(Supplier<List<Tracker>> roster) {
    this.roster = roster;
  }

  /** The name of a tracker; its id where the roster does not know it. */
  String of(String tracker) {
    Tracker found = known().get(tracker);
    return found == null ? tracker : found.name();
  }

  /** The lot of a tracker; empty where none is known. */
  String lotOf(String tracker) {
    Tracker found = known().get(tracker);
    return found == null ? "" : found.lot();
  }

  /** What is to be added to a tracker's temperatures, degC; 0 where the roster does not say. */
  double temperatureOffsetCOf(String tracker) {
    Tracker found = known().get(tracker);
    return found == null ? 0 : found.temperatureOffsetC();
  }

  /** Makes the next question read the roster again. */
  synchronized void forget() {
    fresh = false;
  }

  private synchronized Map<String, Tracker> known() {
    if (!fresh || System.nanoTime() - readAtNs > KEEP_NS) {
      read();
    }
    return known;
  }

  private void read() {
    try {
      known = roster.get().stream().collect(Collectors.toUnmodifiableMap(Tracker::id, t -> t));
      stale = false;
    } catch (StoreException e) {
      if (!stale) {
        LOG.warn("Names stay as they were last read: {}", e.getMessage());
      }
      stale = true;
    }
    readAtNs = System.nanoTime();
    fresh = true;
  }
}
