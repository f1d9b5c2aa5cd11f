package soakbench.ingest.identity;

import java.util.HashMap;
import java.util.Map;
import soakbench.lines.LineCounters;
import soakbench.lines.Reading;
import soakbench.lines.Rejection;

/**
 * Puts the lines of one sender back into the order in which they were sent: a network may let a
 * later datagram overtake an earlier one. A line that is next in sequence is passed on at once; one
 * that came too early waits for those before it, for half a second at most. Each keeps its own time
 * of arrival. Lines without {@code seq} are ordered by {@code t_ms}, and then all wait; lines
 * without either go on as they come. Not thread-safe.
 */
public final class ReorderBuffer {
  /** How long a line waits for those before it. */
  static final long WAIT_US = 500_000;

  /** More trackers than this from one sender are not put in order. */
  private static final int MOST_QUEUES = IdPriority.HEARD_BEFORE.most();

  private static final Rejection LATE =
      new Rejection(
          Rejection.Kind.NOT_RISING,
          "sent twice, or more than half a second later than lines that were sent after it");

  private final SampleStamper stamper;
  private final LineCounters counters;
  private final Map<String, ReorderQueue> queues = new HashMap<>();

  /** What became of the line that is being taken; null while it waits. */
  private Rejection answer;

  private Reading current;

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
    ReorderQueue queue = queue(reading);
    if (queue == null) {
      return stamper.take(reading, readUs);
    }
    current = reading;
    answer = null;
    queue.take(new TimedReading(reading, readUs));
    current = null;
    return answer;
  }

  /** Null where there is nothing to order by, or too many trackers. */
  private ReorderQueue queue(Reading reading) {
    if (reading.seq() < 0 && reading.tMs() < 0) {
      return null;
    }
    String id = String.valueOf(reading.id());
    ReorderQueue queue = queues.get(id);
    if (queue == null) {
      if (queues.size() >= MOST_QUEUES) {
        queues.values().removeIf(ReorderQueue::isIdle);
      }
      if (queues.size() < MOST_QUEUES) {
        queue = new ReorderQueue(new Out());
        queues.put(id, queue);
      }
    }
    return queue;
  }

  /** Releases what has waited for long enough. */
  public void release(long nowUs) {
    queues.values().forEach(queue -> queue.release(nowUs - WAIT_US));
  }

  /** Releases all: nothing more comes. */
  public void end() {
    queues.values().forEach(ReorderQueue::releaseAll);
  }

  private final class Out implements ReorderQueue.Exit {
    @Override
    public void goOn(TimedReading line) {
      answer(line, stamper.take(line.reading(), line.readUs()));
    }

    @Override
    public void tooLate(TimedReading line) {
      answer(line, LATE);
    }

    /**
     * The line that is being taken is answered; one that waited was counted as a reading before.
     */
    private void answer(TimedReading line, Rejection why) {
      if (line.reading() == current) {
        answer = why;
      } else if (why != null) {
        counters.withdraw(why);
      }
    }
  }
}
