package soakbench.live.arrival;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.Iterator;

/**
 * The ranges of its own time that a tracker's posted lines covered already. A sender that gets no
 * response posts the same lines again, and again: those are not live, however young they are. A
 * clock that was set back covers the same range again, too, but goes on there and no faster than
 * time passes. Times are microseconds. Not thread-safe.
 */
final class PostedRanges {
  /** Lines may overtake each other by so much. */
  private static final long LATE_US = 5_000_000;

  /** A timestamp no further after a range continues it; one further before it is a clock set. */
  private static final long APART_US = 600_000_000;

  /** A clock that goes on there for so long was set back. */
  private static final long LASTING_US = 10_000_000;

  private static final int FASTEST = 3;
  private static final int MOST = 8;

  private record Stretch(long fromUs, long toUs) {
    boolean isNear(long stamp) {
      return stamp >= fromUs
          ? stamp <= toUs || isWithin(stamp - toUs, APART_US)
          : isWithin(fromUs - stamp, LATE_US);
    }

    /** Stamps of any year: their difference may not fit, and is negative then. */
    private static boolean isWithin(long apartUs, long mostUs) {
      return apartUs >= 0 && apartUs <= mostUs;
    }

    boolean covers(long stamp) {
      return stamp >= fromUs && toUs - stamp > LATE_US;
    }

    Stretch with(long stamp) {
      return new Stretch(Math.min(fromUs, stamp), Math.max(toUs, stamp));
    }
  }

  /** The newest first. */
  private final Deque<Stretch> stretches = new ArrayDeque<>();

  private boolean isBack;
  private long backSinceUs;
  private long backFromUs;
  private long backStampUs;

  /** Takes a line and returns whether it can be live: nothing at or after it was posted before. */
  boolean isNew(long stamp, long nowUs) {
    Stretch near = takeNear(stamp);
    if (near == null || !near.covers(stamp)) {
      isBack = false;
      stretches.addFirst(near == null ? new Stretch(stamp, stamp) : near.with(stamp));
      if (stretches.size() > MOST) {
        stretches.removeLast();
      }
      return true;
    }
    if (!isBack || stamp < backStampUs - LATE_US) {
      isBack = true;
      backSinceUs = nowUs;
      backFromUs = stamp;
    }
    backStampUs = stamp;
    boolean isSetBack =
        nowUs - backSinceUs >= LASTING_US && stamp - backFromUs <= FASTEST * (nowUs - backSinceUs);
    isBack = !isSetBack;
    stretches.addFirst(isSetBack ? new Stretch(stamp, stamp) : near);
    return isSetBack;
  }

  private Stretch takeNear(long stamp) {
    for (Iterator<Stretch> each = stretches.iterator(); each.hasNext(); ) {
      Stretch stretch = each.next();
      if (stretch.isNear(stamp)) {
        each.remove();
        return stretch;
      }
    }
    return null;
  }
}
