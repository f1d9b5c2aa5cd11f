package soakbench.ingest.identity;

import java.util.HashMap;
import java.util.Map;
import soakbench.lines.LineCounters;
import soakbench.lines.Reading;
import soakbench.lines.Rejection;

/**
 * Puts the lines of one sender back into the order in which they were sent: a network may let a
 * later datagram overtake an earlier one. A line whose turn it is goes on at once; one that came
 * too early waits for those before it, for half a second at most. Each keeps its own time of
 * arrival. Lines without {@code seq} are ordered by {@code t_ms}, and then all wait; lines without
 * either go on as they come. Not for use by several threads at once.
 */
public final class ReorderBuffer {
  /** How long a line waits for those before it. */
  static final long WAIT_US = 500_000;

  /** More trackers than this from one sender are not put in order. */
  private static final int MOST_LANES = IdRank.HEARD_BEFORE.most();

  private static final Rejection LATE =
      new Rejection(
          Rejection.Kind.NOT_RISING,
          "sent twice, or more than half a second later than lines that were sent after it");

  private final SampleStamper stamper;
  private final LineCounters counters;
  private final Map<String, ReorderLane> lanes = new HashMap<>();

  /** What became of the line that is being taken; null while it waits. */
  private Rejection answer;

  private Reading asking;

  public ReorderBuffer(SampleStamper stamper, LineCounters counters) {
    this.stamper = stamper;
    this.counters = counters;
  }

  /**
   * Takes a line.
   *
   * @param readUs when its bytes were read
   * @return why it can't be used, or null where it was taken or waits
   */
  public Rejection take(Reading reading, long readUs) {
    ReorderLane lane = lane(reading);
    if (lane == null) {
      return stamper.take(reading, readUs);
    }
    asking = reading;
    answer = null;
    lane.take(new ReorderLane.Held(reading, readUs));
    asking = null;
    return answer;
  }

  /** Null where there is nothing to order by, or too many trackers. */
  private ReorderLane lane(Reading reading) {
    if (reading.seq() < 0 && reading.tMs() < 0) {
      return null;
    }
    String id = String.valueOf(reading.id());
    ReorderLane lane = lanes.get(id);
    if (lane == null) {
      if (lanes.size() >= MOST_LANES) {
        lanes.values().removeIf(ReorderLane::isIdle);
      }
      if (lanes.size() < MOST_LANES) {
        lane = new ReorderLane(new Out());
        lanes.put(id, lane);
      }
    }
    return lane;
  }

  /** Lets go on what has waited for long enough. */
  public void release(long nowUs) {
    lanes.values().forEach(lane -> lane.release(nowUs - WAIT_US));
  }

  /** Lets all go on: nothing more comes. */
  public void end() {
    lanes.values().forEach(ReorderLane::releaseAll);
  }

  private final class Out implements ReorderLane.Exit {
    @Override
    public void goOn(ReorderLane.Held line) {
      told(line, stamper.take(line.reading(), line.readUs()));
    }

    @Override
    public void tooLate(ReorderLane.Held line) {
      told(line, LATE);
    }

    /**
     * The line that is being taken is answered; one that waited was counted as a reading before.
     */
    private void told(ReorderLane.Held line, Rejection why) {
      if (line.reading() == asking) {
        answer = why;
      } else if (why != null) {
        counters.withdraw(why);
      }
    }
  }
}
