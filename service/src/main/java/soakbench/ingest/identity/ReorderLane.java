package soakbench.ingest.identity;

import java.util.ArrayList;
import java.util.List;
import java.util.TreeMap;
import soakbench.lines.Reading;

/**
 * One tracker's lines on their way through a {@link ReorderBuffer}. Not for use by several threads
 * at once.
 */
final class ReorderLane {
  /** So many wait at most. */
  private static final int MOST_WAITING = 512;

  /** A count that falls by so much, without a time of its own, has begun anew. */
  private static final long RESTART_COUNTS = 256;

  private static final long RESTART_MS = 2000;

  /** So many lines in a row that rise, but lie behind, are those of a tracker that booted again. */
  private static final int BELIEVED = 8;

  /** Takes lines whose turn it is, and those that came too late. */
  interface Exit {
    void goOn(Held line);

    void tooLate(Held line);
  }

  /** A line and when it came. */
  record Held(Reading reading, long readUs) {
    long key() {
      return reading.seq() >= 0 ? reading.seq() : reading.tMs();
    }
  }

  private final Exit exit;
  private final TreeMap<Long, List<Held>> waiting = new TreeMap<>();

  /** Lines that lie behind: late ones, or the first of a tracker that booted again. */
  private final List<Held> behind = new ArrayList<>();

  private int waitingLines;

  /** The line that went on last; null before the first of a power-up. */
  private Held last;

  ReorderLane(Exit exit) {
    this.exit = exit;
  }

  /** Takes a line that has a count or a time since boot. */
  void take(Held line) {
    if (last != null && hasBegunAnew(line)) {
      beginAnew();
    }
    if (last != null && line.key() <= last.key() && !isOtherHalf(last, line)) {
      takeBehind(line);
      return;
    }
    dropBehind();
    boolean itsTurn =
        last != null
            && line.reading().seq() >= 0
            && line.key() <= last.key() + 1
            && waiting.isEmpty();
    if (itsTurn) {
      goOn(line);
    } else {
      hold(line);
      releaseNext();
    }
  }

  private boolean hasBegunAnew(Held line) {
    Reading now = line.reading();
    Reading before = last.reading();
    boolean otherBoot = now.boot() != null && !now.boot().equals(before.boot());
    boolean timed = now.tMs() >= 0 && before.tMs() >= 0;
    boolean fell =
        timed ? now.tMs() < before.tMs() - RESTART_MS : line.key() < last.key() - RESTART_COUNTS;
    return otherBoot || fell;
  }

  /** All of the power-up before goes on; the new one's first lines wait for each other. */
  private void beginAnew() {
    releaseAll();
    last = null;
  }

  private static boolean isOtherHalf(Held a, Held b) {
    Reading one = a.reading();
    Reading two = b.reading();
    return a.key() == b.key()
        && one.hasRates() != one.hasTemperature()
        && one.hasRates() == two.hasTemperature()
        && one.hasTemperature() == two.hasRates();
  }

  private void takeBehind(Held line) {
    boolean rises = behind.isEmpty() || line.key() > behind.get(behind.size() - 1).key();
    if (!rises) {
      dropBehind();
    }
    behind.add(line);
    if (behind.size() == BELIEVED) {
      List<Held> anew = new ArrayList<>(behind);
      behind.clear();
      beginAnew();
      anew.forEach(this::hold);
    }
  }

  private void dropBehind() {
    behind.forEach(exit::tooLate);
    behind.clear();
  }

  private void hold(Held line) {
    List<Held> same = waiting.computeIfAbsent(line.key(), key -> new ArrayList<>(1));
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

  /** Lets go on what has come before this time. */
  void release(long cameBeforeUs) {
    while (!waiting.isEmpty() && waiting.firstEntry().getValue().get(0).readUs() <= cameBeforeUs) {
      releaseFirst();
      releaseNext();
    }
    if (!behind.isEmpty() && behind.get(0).readUs() <= cameBeforeUs) {
      dropBehind();
    }
  }

  /** Lets all go on. */
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

  /** Those whose turn has come by the one that went on. */
  private void releaseNext() {
    while (last != null && !waiting.isEmpty() && isNext(waiting.firstEntry().getValue().get(0))) {
      releaseFirst();
    }
  }

  private boolean isNext(Held line) {
    return line.reading().seq() >= 0 && line.key() <= last.key() + 1;
  }

  private void releaseFirst() {
    List<Held> first = waiting.pollFirstEntry().getValue();
    waitingLines -= first.size();
    first.forEach(this::goOn);
  }

  private void goOn(Held line) {
    last = line;
    exit.goOn(line);
  }
}
