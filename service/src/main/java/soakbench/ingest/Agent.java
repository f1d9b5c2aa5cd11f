package soakbench.ingest;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.live.Sink;

/**
 * Reads a whole rack: a thread for each port, one queue, one sender. A port that is missing, busy
 * or goes away is told and tried again; a store that is away is waited for.
 */
public final class Agent implements AutoCloseable {
  /** How many samples may wait for the store; some minutes of a rack, some 10 MB. */
  static final int QUEUE_SIZE = 100_000;

  private static final Logger LOG = LoggerFactory.getLogger(Agent.class);
  private static final Duration CLOSING = Duration.ofSeconds(10);

  private final List<PortSource> sources;
  private final SampleQueue queue;
  private final Sender sender;
  private final Consumer<String> onFailure;
  private final Duration closing;
  private volatile String failure;
  private boolean closed;

  /**
   * @param sink takes the samples, from one thread
   * @param onFailure hears, once, in one sentence, that the store refused samples for good and
   *     reading has stopped; called on the sender's thread, so it must not call {@link #close}
   */
  public Agent(RackFile rack, Sink sink, Consumer<String> onFailure) {
    this(rack, sink, onFailure, QUEUE_SIZE, CLOSING);
  }

  Agent(RackFile rack, Sink sink, Consumer<String> onFailure, int queueSize, Duration closing) {
    this.onFailure = onFailure;
    this.closing = closing;
    this.queue = new SampleQueue(queueSize);
    this.sender = new Sender(queue, sink, this::fail);
    ArrivalClock clock = new ArrivalClock();
    this.sources =
        rack.slots().stream().map(slot -> new PortSource(slot, clock, queue::put)).toList();
  }

  public void start() {
    sender.start();
    sources.forEach(PortSource::start);
  }

  /** How each slot stands, in the order of the rack file. */
  public List<SourceStatus> sources() {
    return sources.stream().map(PortSource::status).toList();
  }

  public AgentTotals totals() {
    return sender.totals();
  }

  /** How many samples wait to be stored. */
  public int waiting() {
    return queue.size() + sender.unsent();
  }

  /** What keeps samples from being stored, in a sentence; empty where nothing does. */
  public Optional<String> trouble() {
    String trouble = sender.trouble();
    if (trouble.isEmpty() && queue.isFull()) {
      return Optional.of(queue.size() + " samples wait to be stored; reading waits as well");
    }
    return trouble.isEmpty() ? Optional.empty() : Optional.of(trouble);
  }

  /** Why reading has stopped for good; empty while it goes on. */
  public Optional<String> failure() {
    return Optional.ofNullable(failure);
  }

  private void fail(String reason) {
    failure = reason;
    queue.abandon();
    sources.forEach(PortSource::stop);
    onFailure.accept(reason);
  }

  /**
   * Closes the ports, stores what was read and returns. Where the store is away it gives up after
   * ten seconds and says how many samples were lost.
   */
  @Override
  public synchronized void close() {
    if (closed) {
      return;
    }
    closed = true;
    sources.forEach(PortSource::stop);
    try {
      drain(System.nanoTime() + closing.toNanos());
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
    sayLost();
  }

  private void drain(long deadlineNs) throws InterruptedException {
    Thread closer = new Thread(this::closeSources, "closing ports");
    closer.start();
    closer.join(leftMs(deadlineNs));
    if (closer.isAlive()) {
      // The readers stand at a full queue that nobody empties.
      queue.abandon();
      closer.join();
    }
    queue.finish();
    sender.finish(leftMs(deadlineNs));
  }

  private static long leftMs(long deadlineNs) {
    return Math.max(1, (deadlineNs - System.nanoTime()) / 1_000_000);
  }

  private void closeSources() {
    sources.forEach(PortSource::close);
  }

  private void sayLost() {
    queue.abandon();
    if (lost() > 0) {
      LOG.error("{} samples were read but not stored: {}", lost(), sender.trouble());
    }
  }

  /** How many samples were read but given up; 0 until the agent is closed or has failed. */
  public long lost() {
    return queue.isAbandoned() ? queue.dropped() + sender.unsent() : 0;
  }
}
