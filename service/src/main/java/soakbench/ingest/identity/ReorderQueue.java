package soakbench.ingest.identity;

import java.util.ArrayList;
import java.util.List;
import java.util.TreeMap;
import soakbench.lines.Reading;

/** One tracker's lines that wait in a {@link ReorderBuffer}. Not thread-safe. */
final class ReorderQueue {
  /** So many wait at most. */
  private static final int MOST_WAITING = 512;

  /** A count that falls by so much, without a time of its own, has begun anew. */
  private static final long RESTART_COUNTS = 256;

  private static final long RESTART_MS = 2000;

  /** So many lines in a row that rise, but lie behind, are those of a tracker that rebooted. */
  private static final int BELIEVED = 8;

  /** Takes lines in sequence, and those that came too late. */
  interface Exit {
    void goOn(TimedReading line);

    void tooLate(TimedReading line);
  }

  private final Exit exit;
  private final TreeMap<Long, List<TimedReading>> waiting = new TreeMap<>();

  /** Lines that lie behind: late ones, or the first of a tracker that rebooted. */
  private final List<TimedReading> behind = new ArrayList<>();

  private int waitingLines;

  /** The line passed on last; null before the first of a power-up. */
  private TimedReading last;

  ReorderQueue(Exit exit) {
    this.exit = exit;
  }

  /** Takes a line that has a count or a time since boot. */
  void take(TimedReading line) {
    if (last != null && hasRestarted(line)) {
      restart();
    }
    if (last != null && line.order() <= last.order() && !isOtherHalf(last, line)) {
      takeBehind(line);
      return;
    }
    dropBehind();
    boolean itsTurn =
        last != null
            && line.reading().seq() >= 0
            && line.order() <= last.order() + 1
            && waiting.isEmpty();
    if (itsTurn) {
      goOn(line);
    } else {
      hold(line);
      releaseNext();
    }
  }

  private boolean hasRestarted(TimedReading line) {
    Reading now = line.reading();
    Reading before = last.reading();
    boolean otherBoot = now.boot() != null && !now.boot().equals(before.boot());
    boolean timed = now.tMs() >= 0 && before.tMs() >= 0;
    boolean fell =
        timed
            ? now.tMs() < before.tMs() - RESTART_MS
            : line.order() < last.order() - RESTART_COUNTS;
    return otherBoot || fell;
  }

  /** Releases all of the power-up before; the new one's first lines wait for each other. */
  private void restart() {
    releaseAll();
    last = null;
  }

  private static boolean isOtherHalf(TimedReading a, TimedReading b) {
    return a.order() == b.order() && b.reading().isOtherHalfOf(a.reading());
  }

  private void takeBehind(TimedReading line) {
    boolean rises = behind.isEmpty() || line.order() > behind.get(behind.size() - 1).order();
    if (!rises) {
      dropBehind();
    }
    behind.add(line);
    if (behind.size() == BELIEVED) {
      List<TimedReading> anew = new ArrayList<>(behind);
      behind.clear();
      restart();
      anew.forEach(this::hold);
    }
  }

  private void dropBehind() {
    behind.forEach(exit::tooLate);
    behind.clear();
  }

  private void hold(TimedReading line) {
    List<TimedReading> same = waiting.computeIfAbsent(line.order(), key -> new ArrayList<>(1));
    if (!same.isEmpty() && (same.size() > 1 || !isOtherHalf(same.get(0), line))) {
      exit.tooLate(line);
      return;
    }
    same.add(line);
    waitingLines++;
    if (waitingLines > MOST_WAITING) {
      releaseFirst();
      releaseNext();
    }
  }

  /** Releases what has come before this time. */
  void release(long cameBeforeUs) {
    while (!waiting.isEmpty() && waiting.firstEntry().getValue().get(0).readUs() <= cameBeforeUs) {
      releaseFirst();
      releaseNext();
    }
    if (!behind.isEmpty() && behind.get(0).readUs() <= cameBeforeUs) {
      dropBehind();
    }
  }

  /** Releases all. */
  void releaseAll() {
    while (!waiting.isEmpty()) {
      releaseFirst();
    }
    dropBehind();
  }

  /** Whether nothing waits here. */
  boolean isIdle() {
    return waiting.isEmpty() && behind.isEmpty();
  }

  /** Releases those that are next in sequence now. */
  private void releaseNext() {
    while (last != null && !waiting.isEmpty() && isNext(waiting.firstEntry().getValue().get(0))) {
      releaseFirst();
    }
  }

  private boolean isNext(TimedReading line) {
    return line.reading().seq() >= 0 && line.order() <= last.order() + 1;
  }

  private void releaseFirst() {
    List<TimedReading> first = waiting.pollFirstEntry().getValue();
    waitingLines -= first.size();
    first.forEach(this::goOn);
  }

  private void goOn(TimedReading line) {
    last = line;
    exit.goOn(line);
  }
}
