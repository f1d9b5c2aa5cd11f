package soakbench.ingest;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.host.Deadline;
import soakbench.ingest.identity.ArrivalClock;
import soakbench.ingest.identity.IdOwners;
import soakbench.ingest.identity.IngestRules;
import soakbench.ingest.net.NetSources;
import soakbench.ingest.ports.RackPorts;
import soakbench.ingest.rackfile.RackFile;
import soakbench.ingest.sending.DeliveryTotals;
import soakbench.ingest.sending.Destination;
import soakbench.ingest.sending.NewestReporter;
import soakbench.ingest.sending.NewestSamples;
import soakbench.ingest.sending.Sender;
import soakbench.ingest.source.SourceStatus;
import soakbench.ingest.spool.SampleQueue;
import soakbench.ingest.spool.Spool;
import soakbench.ingest.spool.SpoolWriter;
import soakbench.live.arrival.ArrivalListener;
import soakbench.model.Sample;
import soakbench.serial.PortFinder;
import soakbench.serial.SystemPorts;

/**
 * Reads a whole rack: a thread for each port or socket, one queue, one writer to the spool, one
 * sender. A port that is missing, busy or goes away is reported and tried again; a store that is
 * away is waited for, its samples kept in the spool.
 */
public final class Agent implements AutoCloseable {
  /** How many samples may wait for the disk; some seconds of a rack, some MB. */
  public static final int QUEUE_SIZE = 20_000;

  private static final Logger LOG = LoggerFactory.getLogger(Agent.class);
  private static final Duration CLOSING = Duration.ofSeconds(10);

  private final RackPorts ports;
  private final NetSources net;
  private final SampleQueue queue;
  private final Spool spool;
  private final SpoolWriter writer;
  private final Sender sender;
  private final NewestSamples newest = new NewestSamples(System::nanoTime);
  private final NewestReporter reporter;
  private final Destination destination;
  private final Consumer<String> onFailure;
  private final Duration closing;
  private volatile String failure;
  private boolean closed;

  /**
   * @param spool keeps the samples; not closed by the agent
   * @param destination takes the samples, from one thread
   * @param onFailure called once, with one sentence, when the store refused samples for good and
   *     reading has stopped; called on the sender's thread, so it must not call {@link #close}
   * @param arrivals receives every reading as it comes in
   */
  public Agent(
      RackFile rack,
      Spool spool,
      Destination destination,
      Consumer<String> onFailure,
      ArrivalListener arrivals) {
    this(rack, new SystemPorts(), spool, destination, onFailure, QUEUE_SIZE, CLOSING, arrivals);
  }

  /** The same where nothing here monitors heat. */
  public Agent(RackFile rack, Spool spool, Destination destination, Consumer<String> onFailure) {
    this(rack, spool, destination, onFailure, ArrivalListener.NOBODY);
  }

  public Agent(
      RackFile rack,
      PortFinder finder,
      Spool spool,
      Destination destination,
      Consumer<String> onFailure,
      int queueSize,
      Duration closing,
      ArrivalListener arrivals) {
    this.spool = spool;
    this.destination = destination;
    this.onFailure = onFailure;
    this.closing = closing;
    this.queue = new SampleQueue(queueSize);
    this.sender = new Sender(spool, destination, this::fail);
    this.reporter = new NewestReporter(newest, destination, sender::isBehind);
    this.writer = new SpoolWriter(queue, spool, sender::wake);
    ArrivalClock clock = new ArrivalClock(destination::dateUs);
    IngestRules rules =
        new IngestRules(
            rack.stamps(),
            clock::correctionUs,
            destination.refusesAhead(),
            new SafeArrivalListener(arrivals),
            rack::names);
    // Timestamps go on rising from where an earlier run stopped.
    IdOwners owners = new IdOwners(spool::newestUs, this::take, rules);
    this.ports = new RackPorts(rack, finder, clock, owners);
    this.net = new NetSources(rack, clock, owners);
  }

  private void take(Sample sample) {
    if (destination.hears()) {
      newest.note(sample);
    }
    queue.put(sample);
  }

  /** Starts reading; asks the destination for its date first, for some seconds at most. */
  public void start() {
    destination.learnDate();
    writer.start();
    sender.start();
    if (destination.hears()) {
      reporter.start();
    }
    ports.start();
    net.start();
  }

  /**
   * The status of each slot, in the order of the rack file; then, without a slot, of the other
   * ports that are listened to; then of what comes over the network.
   */
  public List<SourceStatus> sources() {
    List<SourceStatus> all = new ArrayList<>(ports.statuses());
    all.addAll(net.statuses());
    return all;
  }

  public DeliveryTotals totals() {
    return sender.totals();
  }

  public Spool.Status spool() {
    return spool.status();
  }

  /** How many samples wait to be stored, on disk and on their way there. */
  public long waiting() {
    return queue.size() + writer.unwritten() + spool.status().waiting();
  }

  /** What keeps samples from being stored, in a sentence; empty where nothing does. */
  public Optional<String> trouble() {
    for (String trouble : List.of(writer.trouble(), sender.trouble())) {
      if (!trouble.isEmpty()) {
        return Optional.of(trouble);
      }
    }
    if (queue.isFull()) {
      return Optional.of(queue.size() + " samples wait for the disk; reading waits as well");
    }
    return destination.notice();
  }

  /** What keeps what was read from reaching the disk, in a sentence; empty where nothing does. */
  public Optional<String> diskTrouble() {
    return Optional.of(writer.trouble()).filter(trouble -> !trouble.isEmpty());
  }

  /** Why reading has stopped for good; empty while it goes on. */
  public Optional<String> failure() {
    return Optional.ofNullable(failure);
  }

  private void fail(String reason) {
    failure = reason;
    ports.stop();
    net.stop();
    onFailure.accept(reason);
  }

  /**
   * Closes the sources, spools what was read, sends what it can within ten seconds and returns.
   * What is left in the spool is sent at the next start.
   */
  @Override
  public synchronized void close() {
    if (closed) {
      return;
    }
    closed = true;
    ports.stop();
    net.stop();
    try {
      drain(Deadline.in(closing));
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
    logLeft();
  }

  private void drain(Deadline deadline) throws InterruptedException {
    Thread closer = new Thread(this::closeSources, "closing sources");
    closer.start();
    closer.join(deadline.leftMs());
    if (closer.isAlive()) {
      // The readers are blocked by a full queue that nobody empties.
      queue.abandon();
      closer.join();
    }
    queue.finish();
    writer.finish(deadline.leftMs());
    sender.finish(deadline.leftMs());
    reporter.finish();
  }

  private void closeSources() {
    ports.close();
    net.close();
  }

  private void logLeft() {
    queue.abandon();
    if (lost() > 0) {
      LOG.error("{} samples were read but not kept: {}", lost(), writer.trouble());
    }
    long left = spool.status().waiting();
    if (left > 0) {
      LOG.info("{} samples wait in the spool and are sent at the next start", left);
    }
  }

  /** How many samples were read but given up; 0 until the agent is closed. */
  public long lost() {
    return queue.isAbandoned() ? queue.dropped() + writer.unwritten() : 0;
  }
}
