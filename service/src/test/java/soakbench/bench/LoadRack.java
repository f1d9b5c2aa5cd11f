package soakbench.bench;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.concurrent.atomic.AtomicLong;
import java.util.concurrent.locks.LockSupport;
import soakbench.demo.PseudoTerminal;
import soakbench.demo.lines.LineBuffer;
import soakbench.demo.simulation.RecipeGenerator;
import soakbench.demo.simulation.SimulateOptions;
import soakbench.demo.simulation.SimulatedTracker;

/**
 * Simulated trackers on pseudo-terminals that print in real time, for loading a service that runs
 * elsewhere.
 */
final class LoadRack implements AutoCloseable {
  /** Some simulated trackers say nothing for their first 40 s. */
  private static final int HEAD_START_S = 60;

  private static final long TICK_NS = 10_000_000L;

  private final List<PseudoTerminal> ports = new ArrayList<>();
  private final List<SimulatedTracker> trackers = new ArrayList<>();
  private final AtomicLong bytesDropped = new AtomicLong();
  private final AtomicLong lines = new AtomicLong();
  private final Path rackFile;
  private final Thread writer = new Thread(this::run, "load-rack");
  private volatile boolean closing;

  private LoadRack(BenchRack of, double seconds, Path folder) throws IOException {
    StringBuilder rack = new StringBuilder("rack: load\nslots:\n");
    for (int i = 1; i <= of.trackers(); i++) {
      PseudoTerminal port = new PseudoTerminal();
      ports.add(port);
      SimulateOptions options =
          of.tracker(
              "LOAD-", i, seconds + 2 * HEAD_START_S, Instant.now().minusSeconds(HEAD_START_S));
      trackers.add(new SimulatedTracker(RecipeGenerator.recipe(options)));
      rack.append("  L").append(i).append(": {port: ").append(port.path()).append("}\n");
    }
    rackFile = Files.writeString(folder.resolve("rack.yaml"), rack.toString());
  }

  static LoadRack start(BenchRack of, double seconds, Path folder) throws IOException {
    LoadRack rack = new LoadRack(of, seconds, folder);
    rack.writer.setDaemon(true);
    rack.writer.start();
    return rack;
  }

  Path rackFile() {
    return rackFile;
  }

  long lines() {
    return lines.get();
  }

  long bytesDropped() {
    return bytesDropped.get();
  }

  private void run() {
    LineBuffer buffer = new LineBuffer();
    skipPast(buffer);
    while (!closing) {
      long nowUs = System.currentTimeMillis() * 1000;
      for (int i = 0; i < ports.size(); i++) {
        while (trackers.get(i).nextUs() <= nowUs) {
          trackers.get(i).next(buffer);
          lines.incrementAndGet();
        }
        byte[] bytes = Arrays.copyOf(buffer.bytes(), buffer.length());
        buffer.clear();
        bytesDropped.addAndGet(bytes.length - ports.get(i).write(bytes));
      }
      LockSupport.parkNanos(TICK_NS);
    }
  }

  private void skipPast(LineBuffer buffer) {
    long nowUs = System.currentTimeMillis() * 1000;
    for (SimulatedTracker tracker : trackers) {
      while (tracker.nextUs() <= nowUs) {
        tracker.next(buffer);
      }
      buffer.clear();
    }
  }

  @Override
  public void close() throws IOException {
    closing = true;
    LockSupport.unpark(writer);
    try {
      writer.join();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
    for (PseudoTerminal port : ports) {
      port.close();
    }
  }
}
