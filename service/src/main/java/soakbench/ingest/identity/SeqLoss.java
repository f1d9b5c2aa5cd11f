package soakbench.ingest.identity;

import java.util.Iterator;
import java.util.Map;
import java.util.TreeMap;

/**
 * Counts the lines of one tracker that never came, by the gaps in its own counter. A line that
 * comes up to two seconds late closes its gap. A counter that starts over (a reboot) or wraps is no
 * loss; a jump is accepted when two more lines go on from there, so that a garbled number counts
 * for nothing. Thread-safe.
 */
final class SeqLoss {
  private static final long LATE_US = 2_000_000;

  /** So many lines missing at once are accepted without confirmation. */
  private static final long NEAR = 50;

  private static final int BELIEVED = 3;
  private static final long T_MS_WRAP = 1L << 32;

  /** How far a tracker's milliseconds may fall by lines that overtook each other. */
  private static final long LATE_MS = LATE_US / 1000;

  private static final int[] COUNTER_BITS = {8, 16, 32};

  /** Lines missing, from the map's key up to this, noticed at this time. */
  private record Gap(long to, long atUs) {}

  private final TreeMap<Long, Gap> gaps = new TreeMap<>();
  private long next = -1;
  private long newestTMs = -1;
  private String boot;
  private long lost;

  // A jump that is not confirmed yet.
  private long jumpFrom;
  private long jumpNext;
  private int jumpLines;

  /**
   * A line was heard.
   *
   * @param seq the tracker's counter, or -1 where it has none
   * @param tMs its milliseconds since boot, or -1
   * @param newBoot id of its power-up, or null
   */
  synchronized void heard(long seq, long tMs, String newBoot, long nowUs) {
    if (seq < 0) {
      return;
    }
    expire(nowUs);
    if (next < 0 || isReboot(tMs, newBoot)) {
      begin(seq, tMs);
    } else {
      newestTMs = Math.max(newestTMs, tMs);
      take(seq, nowUs);
    }
    boot = newBoot;
  }

  /** How many lines never came; those of the last two seconds may still. */
  synchronized long lost(long nowUs) {
    expire(nowUs);
    return lost;
  }

  private boolean isReboot(long tMs, String newBoot) {
    boolean otherBoot = boot != null && newBoot != null && !boot.equals(newBoot);
    long fellMs = tMs < 0 || newestTMs < 0 ? 0 : newestTMs - tMs;
    return otherBoot || fellMs > LATE_MS && fellMs < T_MS_WRAP / 2;
  }

  private void begin(long seq, long tMs) {
    lost += missing();
    gaps.clear();
    next = seq + 1;
    newestTMs = tMs;
    jumpLines = 0;
  }

  private void take(long seq, long nowUs) {
    long ahead = seq - next;
    if (ahead >= 0 && ahead <= NEAR) {
      advance(seq, nowUs);
    } else if (!close(seq) && !wrap(seq, nowUs)) {
      jump(seq, nowUs);
      return;
    }
    jumpLines = 0;
  }

  private void advance(long seq, long nowUs) {
    if (seq > next) {
      gaps.put(next, new Gap(seq - 1, nowUs));
    }
    next = seq + 1;
  }

  /** A line that was missing has come late. */
  private boolean close(long seq) {
    Map.Entry<Long, Gap> entry = gaps.floorEntry(seq);
    if (entry == null || entry.getValue().to() < seq) {
      return false;
    }
    Gap gap = entry.getValue();
    gaps.remove(entry.getKey());
    if (entry.getKey() < seq) {
      gaps.put(entry.getKey(), new Gap(seq - 1, gap.atUs()));
    }
    if (seq < gap.to()) {
      gaps.put(seq + 1, gap);
    }
    return true;
  }

  private boolean wrap(long seq, long nowUs) {
    for (int bits : COUNTER_BITS) {
      long size = 1L << bits;
      long missing = size - next + seq;
      if (next <= size && missing <= Math.min(NEAR, size / 16)) {
        if (next < size) {
          gaps.put(next, new Gap(size - 1, nowUs));
        }
        next = 0;
        advance(seq, nowUs);
        return true;
      }
    }
    return false;
  }

  private void jump(long seq, long nowUs) {
    long ahead = seq - jumpNext;
    boolean goesOn = jumpLines > 0 && ahead >= 0 && ahead <= NEAR;
    if (!goesOn) {
      jumpFrom = seq;
      jumpLines = 0;
    }
    jumpLines++;
    jumpNext = seq + 1;
    if (jumpLines < BELIEVED) {
      return;
    }
    if (jumpFrom > next) {
      gaps.put(next, new Gap(jumpFrom - 1, nowUs));
    } else {
      lost += missing();
      gaps.clear();
    }
    lost += jumpNext - jumpFrom - jumpLines;
    next = jumpNext;
    jumpLines = 0;
  }

  private long missing() {
    long sum = 0;
    for (Map.Entry<Long, Gap> each : gaps.entrySet()) {
      sum += each.getValue().to() - each.getKey() + 1;
    }
    return sum;
  }

  private void expire(long nowUs) {
    Iterator<Map.Entry<Long, Gap>> all = gaps.entrySet().iterator();
    while (all.hasNext()) {
      Map.Entry<Long, Gap> each = all.next();
      if (nowUs - each.getValue().atUs() > LATE_US) {
        lost += each.getValue().to() - each.getKey() + 1;
        all.remove();
      }
    }
  }
}
