package soakbench.live.arrival;

import java.util.ArrayDeque;
import java.util.Deque;

/**
 * Tells a sender whose clock is wrong from the upload of a recording: the first one's own time goes
 * on no faster than its lines arrive, or little. Times are microseconds. Not thread-safe.
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

  private record Arrived(long atUs, long ownUs) {}

  private final Deque<Arrived> arrivals = new ArrayDeque<>();
  private long ownUs;
  private long stampUs;
  private long atUs;

  /** Takes a reading and says whether its sender keeps pace. */
  boolean kept(long stamp, long nowUs) {
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
      arrivals.addLast(new Arrived(nowUs, ownUs));
      forget(nowUs);
    }
    return keeps(nowUs);
  }

  /** The newest few that still span long enough are asked. */
  private void forget(long nowUs) {
    while (arrivals.size() > LEAST_ARRIVALS
        && (nowUs - second().atUs() >= LEAST_SPAN_US || arrivals.size() > MOST)) {
      arrivals.removeFirst();
    }
  }

  private Arrived second() {
    var each = arrivals.iterator();
    each.next();
    return each.next();
  }

  private boolean keeps(long nowUs) {
    Arrived first = arrivals.getFirst();
    double arrived = nowUs - first.atUs();
    double own = ownUs - first.ownUs();
    return arrivals.size() >= LEAST_ARRIVALS
        && arrived >= LEAST_SPAN_US
        && own <= FASTEST * arrived;
  }
}
