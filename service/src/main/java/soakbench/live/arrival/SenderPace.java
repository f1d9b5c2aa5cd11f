package soakbench.live.arrival;

import java.util.ArrayDeque;
import java.util.Deque;

/**
 * Tells a live sender with a wrong clock from the upload of a recording: a live sender's own time
 * goes on hardly faster than its lines arrive. Times are microseconds. Not thread-safe.
 */
final class SenderPace {
  private static final long LEAST_SPAN_US = 5_000_000;
  private static final int LEAST_ARRIVALS = 3;

  /** Lines of one request arrive within moments. */
  private static final long APART_US = 100_000;

  private static final long LONGEST_BREAK_US = 600_000_000;

  /** Nobody sends a recording slower than it was made, so slowness says nothing. */
  private static final double FASTEST = 3;

  /** A step forward up to here is a recording's gap; a longer one, or one back, a clock set. */
  private static final long LONGEST_GAP_US = 600_000_000;

  private static final int MOST = 64;

  private record Point(long atUs, long ownUs) {}

  private final Deque<Point> arrivals = new ArrayDeque<>();
  private long ownUs;
  private long stampUs;
  private long atUs;

  /** Takes a reading and returns whether its sender keeps the pace of a live one. */
  boolean keepsPace(long stamp, long nowUs) {
    if (!arrivals.isEmpty() && nowUs - atUs > LONGEST_BREAK_US) {
      arrivals.clear();
    }
    if (!arrivals.isEmpty()) {
      long step = stamp - stampUs;
      ownUs += step > 0 && step <= LONGEST_GAP_US ? step : nowUs - atUs;
    }
    stampUs = stamp;
    atUs = nowUs;
    if (arrivals.isEmpty() || nowUs - arrivals.getLast().atUs() >= APART_US) {
      arrivals.addLast(new Point(nowUs, ownUs));
      forget(nowUs);
    }
    return isInPace(nowUs);
  }

  /** The newest few that still span long enough decide. */
  private void forget(long nowUs) {
    while (arrivals.size() > LEAST_ARRIVALS
        && (nowUs - second().atUs() >= LEAST_SPAN_US || arrivals.size() > MOST)) {
      arrivals.removeFirst();
    }
  }

  private Point second() {
    var each = arrivals.iterator();
    each.next();
    return each.next();
  }

  private boolean isInPace(long nowUs) {
    Point first = arrivals.getFirst();
    double arrived = nowUs - first.atUs();
    double own = ownUs - first.ownUs();
    return arrivals.size() >= LEAST_ARRIVALS
        && arrived >= LEAST_SPAN_US
        && own <= FASTEST * arrived;
  }
}
