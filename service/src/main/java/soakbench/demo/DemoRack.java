package soakbench.demo;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.locks.LockSupport;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.host.Daemons;
import soakbench.live.EventClock;
import soakbench.model.Tracker;

/**
 * A dozen simulated trackers on two benches, each on a serial port or a connection of its own. The
 * ports are pseudo-terminals; a program that reads them can't tell.
 *
 * <p>Simulated time begins at {@link DemoSettings#startInstant} and runs {@link DemoSettings#speed}
 * times as fast as real time until it has caught up with it; from then on both are the same. Begun
 * six hours ago at thirty times real time that takes 12.4 minutes. So a demo can be watched in a
 * hurry and left open, and no time of the future ever gets into a database.
 *
 * <p>After its first soak every tracker is taken off, and soaks again from cold, for ever.
 */
public final class DemoRack implements AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(DemoRack.class);
  private static final long TICK_NS = 20_000_000L;

  private final DemoTransports transports;
  private final List<Tracker> roster;
  private final List<SlotFeed> feeds = new ArrayList<>();
  private final DemoClock clock;
  private final Thread writer;
  private volatile boolean closing;

  private DemoRack(DemoSettings settings, DemoTransports transports) throws IOException {
    this.transports = transports;
    long startUs = micros(settings.startInstant());
    List<DemoTracker> trackers = new DemoScenario(settings.seed(), startUs).trackers();
    roster = trackers.stream().map(DemoTracker::tracker).toList();
    clock = new DemoClock(startUs, micros(Instant.now()), settings.speed());
    writer = Daemons.thread("demo-rack", this::run);
    try {
      for (DemoTracker each : trackers) {
        feeds.add(new SlotFeed(each, transports.transport(each.tracker().slot())));
      }
    } catch (IOException | RuntimeException e) {
      removePorts();
      throw e;
    }
  }

  /**
   * Opens the ports and begins.
   *
   * @param transports of the lines; closed with the rack
   * @throws IOException if the system has no pseudo-terminal left
   */
  public static DemoRack start(DemoSettings settings, DemoTransports transports)
      throws IOException {
    DemoRack rack = new DemoRack(settings, transports);
    rack.writer.start();
    return rack;
  }

  /** The positions, in order; fixed for the demo's life. */
  public List<DemoSlot> slots() {
    return roster.stream()
        .map(t -> new DemoSlot(t.rack(), t.slot(), transports.port(t.slot()), t.id()))
        .toList();
  }

  /** The trackers as people at the bench would enter them. */
  public List<Tracker> roster() {
    return roster;
  }

  /** Simulated time up to which every tracker has printed. */
  public EventClock clock() {
    return clock;
  }

  private void run() {
    long startNs = System.nanoTime();
    try {
      while (!closing) {
        long nowUs = simulatedUs(System.nanoTime() - startNs);
        for (SlotFeed feed : feeds) {
          feed.feed(nowUs);
        }
        clock.publish(nowUs);
        LockSupport.parkNanos(TICK_NS);
      }
    } catch (IOException | UncheckedIOException e) {
      LOG.error("the simulated rack has stopped: {}", e.getMessage(), e);
    }
  }

  /** Simulated time by now; it stands while a reader is behind. */
  private long simulatedUs(long elapsedNs) {
    if (feeds.stream().anyMatch(f -> f.isFull() && !f.isUnread())) {
      clock.hold(elapsedNs);
      return clock.nowUs();
    }
    return clock.advance(elapsedNs);
  }

  /** Stops the trackers and takes the ports away. */
  @Override
  public void close() throws IOException {
    closing = true;
    LockSupport.unpark(writer);
    try {
      writer.join();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
    removePorts();
  }

  private void removePorts() throws IOException {
    for (SlotFeed feed : feeds) {
      feed.close();
    }
    transports.close();
  }

  private static long micros(Instant instant) {
    return ChronoUnit.MICROS.between(Instant.EPOCH, instant);
  }
}
