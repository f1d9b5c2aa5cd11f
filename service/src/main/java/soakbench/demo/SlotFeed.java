package soakbench.demo;

import java.io.IOException;
import java.util.Arrays;
import java.util.function.LongSupplier;
import soakbench.demo.lines.LineBuffer;
import soakbench.demo.simulation.SimulatedTracker;

/**
 * Writes one tracker's lines to its transport. One that is full is waited for, because faster than
 * real time a short delay of the reader would look like a long silence; where nobody reads for a
 * second what it doesn't take is lost, as with a real tracker, but a line once begun is ended.
 */
final class SlotFeed implements AutoCloseable {
  private static final byte[] NOTHING = {};
  private static final long NOT_FULL = Long.MIN_VALUE;
  private static final long UNREAD_AFTER_NS = 1_000_000_000L;

  private final DemoTracker soaks;
  private final Transport transport;
  private final LongSupplier clockNs;
  private final LineBuffer buffer = new LineBuffer();
  private byte[] rest = NOTHING;
  private long droppedBytes;
  private long fullSinceNs = NOT_FULL;
  private int round;
  private DemoSoak soak;
  private SimulatedTracker tracker;

  SlotFeed(DemoTracker soaks, Transport transport) throws IOException {
    this(soaks, transport, System::nanoTime);
  }

  /**
   * The same.
   *
   * @param clockNs by which it is told that nobody reads, ns
   */
  SlotFeed(DemoTracker soaks, Transport transport, LongSupplier clockNs) throws IOException {
    this.soaks = soaks;
    this.transport = transport;
    this.clockNs = clockNs;
    begin(soaks.soak(0, 0));
    transport.plugIn();
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
    if (soak.pulledAt(nowUs)) {
      transport.unplug();
      discardRest();
    } else {
      transport.plugIn();
      write();
    }
    if (tracker.nextUs() == Long.MAX_VALUE) {
      begin(soaks.soak(++round, soak.endUs()));
    }
  }

  private void begin(DemoSoak next) {
    soak = next;
    tracker = new SimulatedTracker(next.recipe());
  }

  private void write() {
    if (rest.length + buffer.length() == 0) {
      return;
    }
    byte[] bytes = Arrays.copyOf(rest, rest.length + buffer.length());
    System.arraycopy(buffer.bytes(), 0, bytes, rest.length, buffer.length());
    int taken = transport.write(bytes);
    if (taken < 0) {
      droppedBytes += bytes.length;
      discardRest();
      return;
    }
    fullSinceNs =
        taken == bytes.length
            ? NOT_FULL
            : taken > 0 || !isFull() ? clockNs.getAsLong() : fullSinceNs;
    int end = isUnread() ? lineEnd(bytes, taken) : bytes.length;
    rest = Arrays.copyOfRange(bytes, taken, end);
    droppedBytes += bytes.length - end;
  }

  /** Whether its transport is full, so that simulated time had better wait for the reader. */
  boolean isFull() {
    return fullSinceNs != NOT_FULL;
  }

  /** Whether nobody has read it for so long that waiting makes no sense. */
  boolean isUnread() {
    return isFull() && clockNs.getAsLong() - fullSinceNs > UNREAD_AFTER_NS;
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

  /** What the transport had not taken is gone with the cable. */
  private void discardRest() {
    rest = NOTHING;
    fullSinceNs = NOT_FULL;
  }

  @Override
  public void close() throws IOException {
    transport.close();
  }
}
