package soakbench.api.access;

import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.TimeUnit;
import java.util.function.Function;
import java.util.function.Predicate;
import soakbench.model.RackSet;
import soakbench.store.connection.Lease;

/**
 * Says of trackers for which this service does not write who does. Asks the database at most every
 * two seconds for each rack. Thread-safe.
 */
public final class OtherRacks {
  private static final long AGAIN_AFTER_NS = TimeUnit.SECONDS.toNanos(2);

  private record Asked(Optional<Lease> writer, long atNs) {}

  private final Predicate<String> own;
  private final Function<String, String> rackOf;
  private final Function<String, Optional<Lease>> writers;
  private final Map<String, Asked> asked = new ConcurrentHashMap<>();

  /**
   * @param own whether this service writes for a tracker
   * @param rackOf a tracker's rack, empty for none
   * @param writers who writes for a rack; may throw {@link soakbench.live.StoreException}
   */
  public OtherRacks(
      Predicate<String> own,
      Function<String, String> rackOf,
      Function<String, Optional<Lease>> writers) {
    this.own = own;
    this.rackOf = rackOf;
    this.writers = writers;
  }

  /** Whether this service writes for a tracker. */
  public boolean isOwn(String tracker) {
    return own.test(tracker);
  }

  /** Why a tracker is none of this service's, and whose it is; null where it is its own. */
  public String refusal(String tracker) {
    if (own.test(tracker)) {
      return null;
    }
    String rack = rackOf.apply(tracker);
    String lies = rack.isEmpty() ? " is on no rack" : " is on rack " + rack;
    String who =
        writer(rack)
            .map(lease -> "send it to the one that does: " + lease.words() + ".")
            .orElse("none does now; start one with --racks " + word(rack) + ".");
    return tracker + lies + ", for which this service does not write; " + who;
  }

  private static String word(String rack) {
    return rack.isEmpty() ? RackSet.NO_RACK : rack;
  }

  private Optional<Lease> writer(String rack) {
    long nowNs = System.nanoTime();
    return asked
        .compute(
            rack,
            (name, before) ->
                before != null && nowNs - before.atNs() < AGAIN_AFTER_NS
                    ? before
                    : new Asked(writers.apply(name), nowNs))
        .writer();
  }
}
