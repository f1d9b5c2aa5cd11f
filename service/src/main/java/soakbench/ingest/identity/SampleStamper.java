package soakbench.ingest.identity;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ConcurrentSkipListMap;
import soakbench.lines.Reading;
import soakbench.lines.Rejection;
import soakbench.lines.Rejection.Kind;

/**
 * Turns one source's readings into samples: assigns each to its tracker; {@link OwnedId} timestamps
 * it, in whole microseconds, strictly rising for each tracker. Written by one thread; {@link
 * #trackers}, {@link #lost} and {@link #notice} may be called from any thread.
 */
public final class SampleStamper {
  /** More new ids than this on one source within a day are garbled or invented ones. */
  static final int MOST_NEW_A_DAY = 1024;

  /** An id that was silent for so long may be evicted. */
  static final long FORGET_US = 600_000_000;

  private static final long DAY_US = 86_400_000_000L;
  private static final Rejection NO_ID =
      new Rejection(Kind.NO_ID, "no id in the line and no tracker set for this slot");
  private static final Rejection TOO_MANY_TODAY =
      new Rejection(
          Kind.BAD_ID, "more than " + MOST_NEW_A_DAY + " new ids from one source within a day");
  private static final Entry IN = new Entry(null, null, false);
  private static final Entry HEARD_ONCE = new Entry(null, null, true);

  /**
   * What becomes of a reading that comes in.
   *
   * @param refusal why it can't be used, or null
   * @param first the line before, which waited for this one; or null
   * @param isNew whether it waits for a second line of its id
   */
  record Entry(Rejection refusal, UnconfirmedIds.First first, boolean isNew) {
    private static Entry refused(Rejection why) {
      return new Entry(why, null, false);
    }
  }

  private final String ownTracker;
  private final IdOwners owners;
  private final IdSource source;
  private final Map<String, OwnedId> ids = new ConcurrentSkipListMap<>();
  private volatile long lostBefore;
  private long dayUs = Reading.NO_TIME;
  private int newToday;

  /**
   * @param ownTracker whose the lines without an id are, or null
   * @param owners the trackers of all sources; gets the samples
   * @param source this source
   */
  public SampleStamper(String ownTracker, IdOwners owners, IdSource source) {
    this.ownTracker = ownTracker;
    this.owners = owners;
    this.source = source;
  }

  /** Says whether the source's port is there; if not, its ids may go on elsewhere at once. */
  public void gone(boolean isGone) {
    source.gone(isGone);
  }

  private String tracker(Reading reading) {
    return reading.id() == null ? ownTracker : reading.id();
  }

  /** Whether a reading may come in; see {@link IdGate}. */
  Entry enter(Reading reading, long readUs) {
    String tracker = tracker(reading);
    if (tracker == null) {
      return Entry.refused(NO_ID);
    }
    OwnedId id = ids.get(tracker);
    if (id != null && !id.isForgotten()) {
      return IN;
    }
    boolean counts = readUs == Reading.NO_TIME || reading.id() == null || owners.counts(tracker);
    UnconfirmedIds.First first = null;
    if (!counts) {
      UnconfirmedIds.First line =
          new UnconfirmedIds.First(source, new TimedReading(reading, readUs));
      if (owners.unconfirmed().isSentTwice(tracker, line)) {
        return Entry.refused(LiveTimestamps.TWICE);
      }
      first = owners.unconfirmed().take(tracker, line);
      if (first == null) {
        return HEARD_ONCE;
      }
    }
    Rejection why = begin(tracker, readUs, !counts);
    if (why == null) {
      return new Entry(null, first, false);
    }
    if (counts) {
      owners.announce(tracker, source, reading, readUs);
    }
    return Entry.refused(why);
  }

  private Rejection begin(String tracker, long readUs, boolean isNew) {
    IdPriority priority = owners.priority(tracker);
    if (ids.size() >= priority.most() && !makeRoom(priority.most(), readUs)) {
      return priority.tooMany();
    }
    if (isNew && isTooManyToday(readUs)) {
      return TOO_MANY_TODAY;
    }
    OwnedId id = owners.id(tracker, priority, readUs);
    if (id == null) {
      return priority.tooManyInAll();
    }
    ids.put(tracker, id);
    return null;
  }

  private boolean isTooManyToday(long readUs) {
    if (dayUs == Reading.NO_TIME || readUs - dayUs > DAY_US) {
      dayUs = readUs;
      newToday = 0;
    }
    return ++newToday > MOST_NEW_A_DAY;
  }

  /** Evicts those that went elsewhere or were silent for long; never one that is heard. */
  private boolean makeRoom(int most, long nowUs) {
    for (Map.Entry<String, OwnedId> each : new ArrayList<>(ids.entrySet())) {
      OwnedId id = each.getValue();
      boolean elsewhere = id.isElsewhere(source);
      if (elsewhere || id.isSilent(nowUs, FORGET_US)) {
        lostBefore += id.lost(source, nowUs);
        ids.remove(each.getKey());
        if (!elsewhere) {
          owners.forget(each.getKey(), id);
        }
      }
    }
    return ids.size() < most;
  }

  /** Announces it to the monitoring of heat, before anything can hold the reading up. */
  void announce(Reading reading, long readUs) {
    OwnedId id = ids.get(tracker(reading));
    if (id != null) {
      id.announceEarly(source, reading, readUs);
    }
  }

  /**
   * Takes a reading that has come in.
   *
   * @param readUs when its bytes were read, or {@link Reading#NO_TIME} in a recording
   * @return why it can't be used, or null where it was taken
   */
  public Rejection take(Reading reading, long readUs) {
    source.gone(false);
    OwnedId id = ids.get(tracker(reading));
    return id == null ? IdPriority.NEW.tooMany() : id.take(source, reading, readUs);
  }

  /** Passes on what still waits for a next line. */
  public void end() {
    ids.values().forEach(id -> id.end(source));
  }

  /** Ids seen so far, sorted; a live view. */
  public Set<String> trackers() {
    return Collections.unmodifiableSet(ids.keySet());
  }

  /** Ids that were heard once and are not confirmed yet, sorted. */
  public List<String> heardOnce(long nowUs) {
    return owners.unconfirmed().of(source, nowUs);
  }

  /** Whether this id's lines are taken from here now, not from another source. */
  public boolean has(String tracker) {
    return owners.isOwner(source, tracker);
  }

  /** How many lines never came, by the trackers' own counters. */
  public long lost(long nowUs) {
    return lostBefore + ids.values().stream().mapToLong(id -> id.lost(source, nowUs)).sum();
  }

  /** What is wrong with an id or its clock, in a sentence; empty where nothing is. */
  public Optional<String> notice(long nowUs) {
    return ids.values().stream().flatMap(id -> id.notice(source, nowUs).stream()).findFirst();
  }
}
