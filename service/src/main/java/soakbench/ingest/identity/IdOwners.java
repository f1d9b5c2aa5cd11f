package soakbench.ingest.identity;

import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Consumer;
import java.util.function.ToLongFunction;
import soakbench.lines.Reading;
import soakbench.live.arrival.Arrival;
import soakbench.model.Sample;

/**
 * All trackers that the sources of one program hear, each with one stream of samples, whichever
 * source its lines come by: so its timestamps rise and its lost lines are counted across a move
 * from port to port. {@link OwnedId} handles one id heard by two sources. Thread-safe.
 */
public final class IdOwners {
  private static final long POLL_US = 1_000_000;

  private final ToLongFunction<String> newestUs;
  private final Consumer<Sample> samples;
  private final IngestRules rules;
  private final Map<String, OwnedId> ids = new ConcurrentHashMap<>();
  private final UnconfirmedIds unconfirmed = new UnconfirmedIds();
  private long madeRoomUs = Reading.NO_TIME;

  /**
   * @param newestUs the time of a tracker's newest sample so far, or {@link Reading#NO_TIME}
   * @param samples gets the samples, those of each tracker in rising time
   */
  public IdOwners(ToLongFunction<String> newestUs, Consumer<Sample> samples, IngestRules rules) {
    this.newestUs = newestUs;
    this.samples = samples;
    this.rules = rules;
  }

  /** For reading on its own: see {@link IngestRules#PLAIN}. */
  public IdOwners(ToLongFunction<String> newestUs, Consumer<Sample> samples) {
    this(newestUs, samples, IngestRules.PLAIN);
  }

  /** Ids that were heard once. */
  UnconfirmedIds unconfirmed() {
    return unconfirmed;
  }

  /** Whether a single line of this id is accepted: it is expected, or was heard before. */
  boolean counts(String tracker) {
    return rules.known().test(tracker)
        || ids.containsKey(tracker)
        || newestUs.applyAsLong(tracker) != Reading.NO_TIME;
  }

  /** The priority of this id where places are short. */
  IdPriority priority(String tracker) {
    if (rules.names(tracker)) {
      return IdPriority.NAMED;
    }
    boolean before = ids.containsKey(tracker) || newestUs.applyAsLong(tracker) != Reading.NO_TIME;
    return before ? IdPriority.HEARD_BEFORE : IdPriority.NEW;
  }

  /** The state of this id, made where it's new. Null where there are too many. */
  OwnedId id(String tracker, IdPriority priority, long nowUs) {
    int most = priority.mostInAll();
    if (ids.size() >= most && !ids.containsKey(tracker) && !makeRoom(most, nowUs)) {
      return null;
    }
    return ids.computeIfAbsent(
        tracker, id -> new OwnedId(id, newestUs.applyAsLong(id), samples, rules));
  }

  /** Evicts those that were silent for long; at most once a second. */
  private synchronized boolean makeRoom(int most, long nowUs) {
    if (madeRoomUs == Reading.NO_TIME || nowUs - madeRoomUs > POLL_US) {
      madeRoomUs = nowUs;
      ids.forEach(
          (tracker, id) -> {
            if (id.isSilent(nowUs, SampleStamper.FORGET_US)) {
              forget(tracker, id);
            }
          });
    }
    return ids.size() < most;
  }

  /** Announces a line that there is no place for: its heat is monitored all the same. */
  void announce(String tracker, IdSource source, Reading reading, long readUs) {
    OwnedId id = ids.get(tracker);
    if (id != null) {
      id.announceEarly(source, reading, readUs);
    } else if (readUs != Reading.NO_TIME) {
      rules.arrivals().heard(Arrival.live(tracker, reading));
    }
  }

  /** Forgets an id that was silent for long. Its times rise over the stored ones if it's back. */
  void forget(String tracker, OwnedId id) {
    id.forget();
    ids.remove(tracker, id);
  }

  /** Whether the lines of this id are taken from this source now. */
  boolean isOwner(IdSource source, String tracker) {
    OwnedId id = ids.get(tracker);
    return id != null && id.isOwner(source);
  }
}
