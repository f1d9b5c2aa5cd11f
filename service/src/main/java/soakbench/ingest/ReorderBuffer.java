package soakbench.ingest;

import java.util.HashMap;
import java.util.Map;
import java.util.TreeMap;
import soakbench.lines.LineCounters;
import soakbench.lines.LineReader;
import soakbench.lines.Reading;
import soakbench.lines.Rejection;

/**
 * Puts the lines of one sender back into the order in which they were sent: a network may let a
 * later datagram overtake an earlier one. A line whose turn it is goes on at once; one that came
 * too early waits for those before it, for half a second at most. Each keeps its own time of
 * arrival. Lines without {@code seq} are ordered by {@code t_ms}, and then all wait; lines without
 * either go on as they come. Not for use by several threads at once.
 */
final class ReorderBuffer implements LineReader.Readings {
  /** How long a line waits for those before it. */
  static final long WAIT_US = 500_000;

  /** So many of one tracker wait at most. */
  private static final int MOST_WAITING = 512;

  /** A counter that falls by so much, or whose other one falls by this, has begun anew. */
  private static final long RESTART_COUNTS = 2000;

  private static final long RESTART_MS = 2000;

  private static final Rejection LATE =
      new Rejection(
          Rejection.Kind.NOT_RISING,
          "sent twice, or more than half a second later than lines that were sent after it");

  private final SampleStamper stamper;
  private final LineCounters counters;
  private final Map<String, Lane> lanes = new HashMap<>();
  private long readUs;

  ReorderBuffer(SampleStamper stamper, LineCounters counters) {
    this.stamper = stamper;
    this.counters = counters;
  }

  private record Waiting(Reading reading, long readUs) {}

  /** One tracker's lines. */
  private static final class Lane {
    final TreeMap<Long, Waiting> waiting = new TreeMap<>();
    Reading last;

    /** Key of the line that went on last; -1 before the first. */
    long lastKey = -1;
  }

  /** Says when the bytes were read whose readings come next. */
  void readAt(long timeUs) {
    readUs = timeUs;
  }

  @Override
  public Rejection take(Reading reading) {
    long key = key(reading);
    if (key < 0) {
      return pass(reading, readUs);
    }
    Lane lane = lanes.computeIfAbsent(String.valueOf(reading.id()), id -> new Lane());
    if (lane.last != null && hasBegunAnew(lane.last, reading, key - lane.lastKey)) {
      releaseAll(lane);
      lane.lastKey = -1;
    }
    if (lane.waiting.containsKey(key) || lane.lastKey >= 0 && key <= lane.lastKey) {
      return LATE;
    }
    if (reading.seq() >= 0 && key == lane.lastKey + 1) {
      Rejection why = goOn(lane, key, reading, readUs);
      releaseNext(lane);
      return why;
    }
    lane.waiting.put(key, new Waiting(reading, readUs));
    if (lane.waiting.size() > MOST_WAITING) {
      releaseFirst(lane);
    }
    return null;
  }

  private static long key(Reading reading) {
    return reading.seq() >= 0 ? reading.seq() : reading.tMs();
  }

  private static boolean hasBegunAnew(Reading last, Reading reading, long advance) {
    boolean otherBoot = reading.boot() != null && !reading.boot().equals(last.boot());
    boolean timeFell = reading.tMs() >= 0 && reading.tMs() < last.tMs() - RESTART_MS;
    return otherBoot || timeFell || advance < -RESTART_COUNTS;
  }

  /** Lets go on what has waited for long enough. */
  void release(long nowUs) {
    for (Lane lane : lanes.values()) {
      while (!lane.waiting.isEmpty()
          && lane.waiting.firstEntry().getValue().readUs + WAIT_US <= nowUs) {
        releaseFirst(lane);
      }
    }
  }

  /** Lets all go on: nothing more comes. */
  void end() {
    lanes.values().forEach(this::releaseAll);
  }

  private void releaseAll(Lane lane) {
    while (!lane.waiting.isEmpty()) {
      releaseFirst(lane);
    }
  }

  private void releaseFirst(Lane lane) {
    withdrawIf(goOnFirst(lane));
    releaseNext(lane);
  }

  /** Those whose turn has come by the one that went on. */
  private void releaseNext(Lane lane) {
    while (!lane.waiting.isEmpty()
        && lane.waiting.firstKey() == lane.lastKey + 1
        && lane.waiting.firstEntry().getValue().reading.seq() >= 0) {
      withdrawIf(goOnFirst(lane));
    }
  }

  private Rejection goOnFirst(Lane lane) {
    Map.Entry<Long, Waiting> first = lane.waiting.pollFirstEntry();
    return goOn(lane, first.getKey(), first.getValue().reading, first.getValue().readUs);
  }

  private Rejection goOn(Lane lane, long key, Reading reading, long arrivalUs) {
    lane.last = reading;
    lane.lastKey = key;
    return pass(reading, arrivalUs);
  }

  private Rejection pass(Reading reading, long arrivalUs) {
    stamper.readAt(arrivalUs);
    return stamper.take(reading);
  }

  /** It was counted as a reading when it came. */
  private void withdrawIf(Rejection why) {
    if (why != null) {
      counters.withdraw(why);
    }
  }
}
