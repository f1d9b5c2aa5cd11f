package soakbench.ingest;

import java.util.Collections;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ConcurrentSkipListMap;
import soakbench.lines.LineReader;
import soakbench.lines.Reading;
import soakbench.lines.Rejection;
import soakbench.lines.Rejection.Kind;

/**
 * Makes samples of one source's readings: says whose each is; {@link OwnedId} says when it was
 * taken, in whole microseconds, strictly rising for each tracker. Written by one thread; {@link
 * #trackers}, {@link #lost} and {@link #notice} may be called from any.
 */
final class SampleStamper implements LineReader.Readings {
  /** More ids than this on one source are garbled ones; each costs memory. */
  private static final int MOST_TRACKERS = 256;

  private static final Rejection NO_ID =
      new Rejection(Kind.NO_ID, "no id in the line and no tracker set for this slot");
  private static final Rejection TOO_MANY =
      new Rejection(Kind.BAD_ID, "more than " + MOST_TRACKERS + " different ids on one source");

  private static final Rejection TOO_MANY_IN_ALL =
      new Rejection(Kind.BAD_ID, "more than " + IdOwners.MOST + " different ids in all");

  private final String ownTracker;
  private final IdOwners owners;
  private final IdMember source;
  private final Map<String, OwnedId> ids = new ConcurrentSkipListMap<>();
  private long readUs = Reading.NO_TIME;

  /**
   * @param ownTracker whose the lines without an id are, or null
   * @param owners the trackers of all sources; gets the samples
   * @param source this source
   */
  SampleStamper(String ownTracker, IdOwners owners, IdMember source) {
    this.ownTracker = ownTracker;
    this.owners = owners;
    this.source = source;
  }

  /** Says when the bytes were read whose readings come next. */
  void readAt(long timeUs) {
    readUs = timeUs;
    source.gone(false);
  }

  /** Says that the source's port went away: its ids may go on elsewhere at once. */
  void gone() {
    source.gone(true);
  }

  @Override
  public Rejection take(Reading reading) {
    String tracker = reading.id() == null ? ownTracker : reading.id();
    if (tracker == null) {
      return NO_ID;
    }
    OwnedId id = ids.get(tracker);
    if (id == null) {
      if (ids.size() >= MOST_TRACKERS) {
        return TOO_MANY;
      }
      id = owners.id(tracker);
      if (id == null) {
        return TOO_MANY_IN_ALL;
      }
      ids.put(tracker, id);
    }
    return id.take(source, reading, readUs);
  }

  /** Hands on what still waits for a next line. */
  void end() {
    ids.values().forEach(id -> id.end(source));
  }

  /** Ids seen so far, sorted; a live view. */
  Set<String> trackers() {
    return Collections.unmodifiableSet(ids.keySet());
  }

  /** Whether this id's lines are taken from here now, not from another source. */
  boolean has(String tracker) {
    return owners.isOwner(source, tracker);
  }

  /** How many lines never came, by the trackers' own counters. */
  long lost(long nowUs) {
    return ids.values().stream().mapToLong(id -> id.lost(source, nowUs)).sum();
  }

  /** An id that is heard elsewhere too, in a sentence; empty where there is none. */
  Optional<String> notice(long nowUs) {
    return ids.values().stream().flatMap(id -> id.notice(source, nowUs).stream()).findFirst();
  }
}
