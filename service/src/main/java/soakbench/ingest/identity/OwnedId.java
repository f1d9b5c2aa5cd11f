package soakbench.ingest.identity;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Consumer;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.lines.Reading;
import soakbench.lines.ReadingJoiner;
import soakbench.lines.Rejection;
import soakbench.lines.Rejection.Kind;
import soakbench.live.arrival.Arrival;
import soakbench.model.Sample;

/**
 * One tracker's id and the source that has it. Lines of the same id from a second source are held
 * back until it's clear what they are: where the first source speaks again there are two trackers
 * of one id (or one is heard twice), and those of the second are rejected; where it stays silent,
 * or its port is gone, the tracker has moved, and they are taken as if they had come just now from
 * the right place. So samples of two trackers are not mixed, and a move loses none. Thread-safe;
 * only {@link #take} and {@link #end} may wait, where nobody takes the samples.
 */
final class OwnedId {
  private static final Logger LOG = LoggerFactory.getLogger(OwnedId.class);

  /** After so long a silence of the first source the second has the id. */
  private static final long PATIENCE_US = 3_000_000;

  /** A slow tracker's silence is longer than so many of its intervals, but not than the other. */
  private static final int PATIENCE_INTERVALS = 3;

  private static final long LONGEST_PATIENCE_US = 30_000_000;

  /** How many lines are held back; some seconds of a fast tracker. */
  private static final int MOST_HELD = 5000;

  private static final long NOTICE_US = 10_000_000;
  private static final String ADVICE = "; give one of the two another id, or unplug one";

  private final String tracker;
  private final TrackerStream stream;
  private final ClockNotices notices;

  /** Lines of the second source. */
  private final Deque<TimedReading> held = new ArrayDeque<>();

  private final Map<IdSource, Long> lostBefore = new ConcurrentHashMap<>();
  private volatile IdSource owner;
  private volatile long heardUs = Reading.NO_TIME;

  /** Between its last two lines that were read apart; 0 until it's known. */
  private long intervalUs;

  private volatile long lostMark;

  /** Whose reading was taken last; a doubt about it is counted there. */
  private IdSource lastFrom;

  private final Consumer<Reading> arrivals;
  private volatile boolean forgotten;
  private IdSource challenger;
  private volatile IdSource clashing;
  private volatile long clashUs = Reading.NO_TIME;

  OwnedId(String tracker, long newestUs, Consumer<Sample> samples, IngestRules rules) {
    this.tracker = tracker;
    this.notices = new ClockNotices(tracker);
    this.arrivals = reading -> rules.arrivals().heard(Arrival.live(tracker, reading));
    this.stream =
        new TrackerStream(
            new ReadingJoiner(tracker, ReadingJoiner.TEMPERATURE_HOLD_S),
            rules,
            newestUs,
            notices,
            new TrackerStream.Exit(
                sample -> emit(sample, samples),
                why -> lastFrom.counters().withdraw(why),
                () -> owner.rebooted(tracker),
                () -> owner.counters().unbelievedTime()));
  }

  /**
   * Takes a reading of this id.
   *
   * @param readUs when it was read, or {@link Reading#NO_TIME} in a recording
   * @return why it can't be used, or null where it was taken or is held back
   */
  synchronized Rejection take(IdSource from, Reading reading, long readUs) {
    if (owner == null) {
      owner = from;
    }
    if (from != owner) {
      return challenge(from, reading, readUs);
    }
    if (challenger != null) {
      refuseHeld(readUs);
    }
    return pass(reading, readUs);
  }

  /**
   * Hears of a reading before anything can hold it up, on the reading thread: not of one from a
   * second source, which is announced when the id moves there.
   */
  void announceEarly(IdSource from, Reading reading, long readUs) {
    IdSource now = owner;
    if (now == null || now == from) {
      announce(reading, readUs);
    }
  }

  private void announce(Reading reading, long readUs) {
    if (readUs != Reading.NO_TIME) {
      arrivals.accept(reading);
    }
  }

  private Rejection pass(Reading reading, long readUs) {
    if (heardUs != Reading.NO_TIME && readUs > heardUs) {
      intervalUs = readUs - heardUs;
    }
    heardUs = readUs;
    lastFrom = lastFrom == null ? owner : lastFrom;
    Rejection why = stream.take(reading, readUs);
    lastFrom = owner;
    return why;
  }

  private void emit(Sample sample, Consumer<Sample> samples) {
    owner.counters().sampleAt(sample.timeUs());
    samples.accept(sample);
  }

  private Rejection challenge(IdSource from, Reading reading, long readUs) {
    if (challenger != null && challenger != from) {
      if (!hasLost(readUs)) {
        return elsewhere(owner);
      }
      move(challenger);
    }
    challenger = from;
    if (hasLost(readUs)) {
      move(from);
      announce(reading, readUs);
      return pass(reading, readUs);
    }
    if (held.size() == MOST_HELD) {
      return elsewhere(owner);
    }
    held.add(new TimedReading(reading, readUs));
    return null;
  }

  /** Whether the owner has been silent for so long that the tracker isn't there any more. */
  private boolean hasLost(long nowUs) {
    boolean known = intervalUs > 0;
    long slow =
        known
            ? Math.min(PATIENCE_INTERVALS * intervalUs, LONGEST_PATIENCE_US)
            : LONGEST_PATIENCE_US;
    return owner.isGone() || nowUs - heardUs >= Math.max(PATIENCE_US, slow);
  }

  private void move(IdSource to) {
    LOG.info("{} goes on at {}; it was at {}", tracker, to.label(), owner.label());
    long lost = heardUs == Reading.NO_TIME ? 0 : stream.lost(heardUs);
    lostBefore.merge(owner, lost - lostMark, Long::sum);
    lostMark = lost;
    owner = to;
    challenger = null;
    while (!held.isEmpty()) {
      TimedReading next = held.poll();
      announce(next.reading(), next.readUs());
      Rejection why = pass(next.reading(), next.readUs());
      if (why != null) {
        to.counters().withdraw(why);
      }
    }
  }

  private void refuseHeld(long nowUs) {
    boolean isNew = clashUs == Reading.NO_TIME || nowUs - clashUs > NOTICE_US;
    if (isNew) {
      LOG.warn(
          "{} comes from {} and from {}: lines of the second are not taken{}",
          tracker,
          owner.label(),
          challenger.label(),
          ADVICE);
    }
    clashing = challenger;
    clashUs = nowUs;
    while (!held.isEmpty()) {
      held.poll();
      challenger.counters().withdraw(elsewhere(owner));
    }
    challenger = null;
  }

  private Rejection elsewhere(IdSource first) {
    String where = tracker + " comes from " + first.label() + " already";
    return new Rejection(Kind.OTHER_SOURCE, where);
  }

  /** What is wrong with this id at this source, in a sentence; empty where nothing is. */
  Optional<String> notice(IdSource source, long nowUs) {
    boolean concerned = source == owner || source == clashing;
    if (!concerned || clashUs == Reading.NO_TIME || nowUs - clashUs > NOTICE_US) {
      return source == owner ? notices.notice(nowUs) : Optional.empty();
    }
    boolean isFirst = source == owner;
    String said = tracker + " comes from " + (isFirst ? clashing : owner).label() + " as well: ";
    String taken = isFirst ? "the lines from here are taken" : "the lines from here are not taken";
    return Optional.of(said + taken + ADVICE);
  }

  /** Whether nothing was heard of it for so long. */
  boolean isSilent(long nowUs, long forUs) {
    long newestUs = heardUs;
    return newestUs != Reading.NO_TIME && nowUs - newestUs > forUs;
  }

  /** Passes on what waits; whoever hears this id again looks it up anew. */
  synchronized void forget() {
    forgotten = true;
    stream.end();
  }

  boolean isForgotten() {
    return forgotten;
  }

  boolean isElsewhere(IdSource source) {
    IdSource now = owner;
    return now != null && now != source;
  }

  boolean isOwner(IdSource source) {
    return source == owner;
  }

  /** How many lines never came while this source had the id, by the tracker's own counter. */
  long lost(IdSource source, long nowUs) {
    long now = source == owner ? stream.lost(nowUs) - lostMark : 0;
    return lostBefore.getOrDefault(source, 0L) + now;
  }

  /** For a source's end: passes on what waits, here or in the stream. */
  synchronized void end(IdSource source) {
    if (source == challenger) {
      move(source);
    }
    if (source == owner) {
      stream.end();
    }
  }
}
