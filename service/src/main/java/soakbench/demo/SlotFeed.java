package soakbench.demo;

import java.io.IOException;
import java.util.Arrays;
import soakbench.demo.lines.LineBuffer;
import soakbench.demo.simulation.SimulatedTracker;

/**
 * Plays one part into one port. A port that is full is waited for, because faster than real time a
 * short delay of the reader would look like a long silence; where nobody reads for a second what
 * the port doesn't take is lost, as with a real tracker, but a line once begun is ended.
 */
final class SlotFeed implements AutoCloseable {
  private static final byte[] NOTHING = {};
  private static final long NOT_FULL = Long.MIN_VALUE;
  private static final long PATIENCE_NS = 1_000_000_000L;

  private final DemoTracker part;
  private final Carrier carrier;
  private final LineBuffer buffer = new LineBuffer();
  private byte[] rest = NOTHING;
  private long droppedBytes;
  private long fullSinceNs = NOT_FULL;
  private int round;
  private DemoSoak act;
  private SimulatedTracker tracker;

  SlotFeed(DemoTracker part, Carrier carrier) throws IOException {
    this.part = part;
    this.carrier = carrier;
    play(part.act(0, 0));
    carrier.plugIn();
  }

  long droppedBytes() {
    return droppedBytes;
  }

  /** Writes all that its tracker prints up to a moment, microseconds since 1970. */
  void feed(long nowUs) throws IOException {
    buffer.clear();
    while (tracker.nextUs() <= nowUs) {
      tracker.next(buffer);
    }
    if (act.pulledAt(nowUs)) {
      carrier.unplug();
      lose();
    } else {
      carrier.plugIn();
      write();
    }
    if (tracker.nextUs() == Long.MAX_VALUE) {
      play(part.act(++round, act.endUs()));
    }
  }

  private void play(DemoSoak next) {
    act = next;
    tracker = new SimulatedTracker(next.recipe());
  }

  private void write() {
    if (rest.length + buffer.length() == 0) {
      return;
    }
    byte[] bytes = Arrays.copyOf(rest, rest.length + buffer.length());
    System.arraycopy(buffer.bytes(), 0, bytes, rest.length, buffer.length());
    int taken = carrier.write(bytes);
    if (taken < 0) {
      droppedBytes += bytes.length;
      lose();
      return;
    }
    fullSinceNs =
        taken == bytes.length ? NOT_FULL : taken > 0 || !waits() ? System.nanoTime() : fullSinceNs;
    boolean nobodyReads = waits() && System.nanoTime() - fullSinceNs > PATIENCE_NS;
    int end = nobodyReads ? lineEnd(bytes, taken) : bytes.length;
    rest = Arrays.copyOfRange(bytes, taken, end);
    droppedBytes += bytes.length - end;
  }

  /** Whether its port is full, so that simulated time had better wait for the reader. */
  boolean waits() {
    return fullSinceNs != NOT_FULL;
  }

  /** Whether nobody has read its port for so long that waiting makes no sense. */
  boolean ignored() {
    return waits() && System.nanoTime() - fullSinceNs > PATIENCE_NS;
  }

  /** Where the next line begins. */
  private static int lineEnd(byte[] bytes, int from) {
    int end = from;
    while (end < bytes.length) {
      if (bytes[end++] == '\n') {
        break;
      }
    }
    return end;
  }

  /** What the port had not taken is gone with the cable. */
  private void lose() {
    rest = NOTHING;
    fullSinceNs = NOT_FULL;
  }

  @Override
  public void close() throws IOException {
    carrier.close();
  }
}
