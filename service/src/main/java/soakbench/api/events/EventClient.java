package soakbench.api.events;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.util.Optional;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;

/**
 * One listener to the events: a bounded queue between whoever publishes, who never waits, and the
 * thread that writes to this client, who may wait for ever. A client that does not keep up is cut
 * off; it comes back by itself and gets the present state.
 */
public final class EventClient {
  private static final int QUEUE_LENGTH = 64;
  private static final long MOST_BYTES = 8L << 20;
  private static final byte[] HEARTBEAT = ": still here\n\n".getBytes(StandardCharsets.UTF_8);
  private static final byte[] END = new byte[0];

  private final BlockingQueue<byte[]> queue = new ArrayBlockingQueue<>(QUEUE_LENGTH);
  private final AtomicLong waitingBytes = new AtomicLong();
  private final OutputStream out;
  private final Runnable cut;
  private final long heartbeatMs;
  private final String rack;
  private volatile boolean closed;
  private volatile boolean writing;

  /**
   * @param out where events are written
   * @param cut ends the connection at once, also while a write is blocked on it
   * @param heartbeatMs a comment is sent when nothing else was for this long, ms
   */
  EventClient(OutputStream out, Runnable cut, long heartbeatMs) {
    this(out, cut, heartbeatMs, null);
  }

  /**
   * The same.
   *
   * @param rack the only one whose verdicts it wants; null for all
   */
  EventClient(OutputStream out, Runnable cut, long heartbeatMs, String rack) {
    this.rack = rack;
    this.out = out;
    this.cut = cut;
    this.heartbeatMs = heartbeatMs;
  }

  /** The only rack whose verdicts it wants; empty for all. */
  Optional<String> rack() {
    return Optional.ofNullable(rack);
  }

  /** The bytes of an event whose data is one line. */
  public static byte[] event(String name, String data) {
    return ("event: " + name + "\ndata: " + data + "\n\n").getBytes(StandardCharsets.UTF_8);
  }

  /**
   * Queues an event; never waits. Where 64 events or 8 MiB wait already the client has stalled, and
   * nothing of it is kept.
   *
   * @return false where the client has stalled or gone and is cut off
   */
  boolean offer(byte[] event) {
    if (closed) {
      return false;
    }
    boolean fits = waitingBytes.addAndGet(event.length) <= MOST_BYTES + event.length;
    if (!fits || !queue.offer(event)) {
      closed = true;
      queue.clear();
      cut.run();
      return false;
    }
    return true;
  }

  /** Ends the writing thread; one that is held up in a write is cut off, since it may never end. */
  void close() {
    closed = true;
    queue.clear();
    queue.offer(END);
    if (writing) {
      cut.run();
    }
  }

  /** Writes events until the client is closed or cut off. */
  void run() throws IOException, InterruptedException {
    try {
      while (!closed) {
        byte[] event = queue.poll(heartbeatMs, TimeUnit.MILLISECONDS);
        if (event != END) {
          write(event == null ? HEARTBEAT : event);
          waitingBytes.addAndGet(event == null ? 0 : -event.length);
        }
      }
    } finally {
      closed = true;
    }
  }

  private void write(byte[] event) throws IOException {
    writing = true;
    out.write(event);
    out.flush();
    writing = false;
  }
}
