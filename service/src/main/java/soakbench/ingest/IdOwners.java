package soakbench.ingest;

import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Consumer;
import java.util.function.ToLongFunction;
import soakbench.model.Sample;

/**
 * All trackers that the sources of one program hear, each with one stream of samples, whichever
 * source its lines come by: so its times rise and its losses are counted over a move from port to
 * port. What happens where two sources hear one id says {@link OwnedId}. For any thread.
 */
final class IdOwners {
  /** More ids than this in one program are garbled or invented ones; each costs memory. */
  static final int MOST = 4096;

  private final ToLongFunction<String> newestUs;
  private final Consumer<Sample> samples;
  private final Map<String, OwnedId> ids = new ConcurrentHashMap<>();

  /**
   * @param newestUs the time of a tracker's newest sample so far, or {@link
   *     soakbench.lines.Reading#NO_TIME}
   * @param samples gets the samples, those of each tracker in rising time
   */
  IdOwners(ToLongFunction<String> newestUs, Consumer<Sample> samples) {
    this.newestUs = newestUs;
    this.samples = samples;
  }

  /** What is known of this id; it begins to be where it's new. Null where there are too many. */
  OwnedId id(String tracker) {
    if (ids.size() >= MOST && !ids.containsKey(tracker)) {
      return null;
    }
    return ids.computeIfAbsent(tracker, id -> new OwnedId(id, newestUs.applyAsLong(id), samples));
  }

  /** Whether the lines of this id are taken from this source now. */
  boolean isOwner(IdMember source, String tracker) {
    OwnedId id = ids.get(tracker);
    return id != null && id.isOwner(source);
  }
}
