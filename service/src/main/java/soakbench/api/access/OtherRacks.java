package soakbench.api.access;

import java.util.HashMap;
import java.util.HashSet;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.TimeUnit;
import java.util.function.BiPredicate;
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
  private final RackSet racks;
  private final BiPredicate<String, String> placing;
  private final Map<String, Asked> asked = new ConcurrentHashMap<>();

  /**
   * @param own whether this service writes for a tracker
   * @param rackOf a tracker's rack, empty for none
   * @param writers who writes for a rack; may throw {@link soakbench.live.StoreException}
   * @param racks those that this service writes for
   * @param placing puts a tracker on one of these racks, if the roster puts it on none; returns
   *     whether it lies there then; may throw {@link soakbench.live.StoreException}
   */
  public OtherRacks(
      Predicate<String> own,
      Function<String, String> rackOf,
      Function<String, Optional<Lease>> writers,
      RackSet racks,
      BiPredicate<String, String> placing) {
    this.own = own;
    this.rackOf = rackOf;
    this.writers = writers;
    this.racks = racks;
    this.placing = placing;
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

  /**
   * What one request brings.
   *
   * @param rack on which its sender reads; empty where it does not say
   * @param admitted whether a tracker may be put on that rack
   */
  public OneRequest request(String rack, Predicate<String> admitted) {
    return new OneRequest(racks.has(rack) ? rack : "", admitted);
  }

  /**
   * Whose the trackers of one request are. One that is another's at its first line is so to the
   * last: were each line decided by itself, a tracker that is moved here meanwhile would have its
   * later lines taken and its first ones not, and its soak would begin anew when these are sent
   * again. Not thread-safe.
   */
  public final class OneRequest {
    private final String rack;
    private final Predicate<String> admitted;
    private final Map<String, String> refused = new HashMap<>();
    private final Set<String> placed = new HashSet<>();

    private OneRequest(String rack, Predicate<String> admitted) {
      this.rack = rack;
      this.admitted = admitted;
    }

    /** Why a tracker is none of this service's, and whose it is; null where it is its own. */
    public String refusal(String tracker) {
      return placed.contains(tracker) ? null : refused.computeIfAbsent(tracker, this::asked);
    }

    private String asked(String tracker) {
      boolean mayPlace =
          !own.test(tracker)
              && !rack.isEmpty()
              && rackOf.apply(tracker).isEmpty()
              && admitted.test(tracker);
      if (mayPlace && placing.test(tracker, rack)) {
        // It is this service's from the next unit of work on, which finds that it was moved.
        placed.add(tracker);
        return null;
      }
      return OtherRacks.this.refusal(tracker);
    }
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
