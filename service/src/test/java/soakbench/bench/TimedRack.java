package soakbench.bench;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import java.util.concurrent.locks.LockSupport;
import soakbench.demo.PseudoTerminal;

/**
 * Trackers on pseudo-terminals that print in real time, one after another and not all at once, and
 * note when each line was written. Each is shaken for two seconds now and then, so that its state
 * changes.
 */
final class TimedRack implements AutoCloseable {
  private static final long TICK_NS = 1_000_000L;
  private static final int SHAKEN_EVERY_S = 100;
  private static final int FIRST_SHAKEN_S = 20;
  private static final int SHAKEN_S = 2;

  private final List<PseudoTerminal> ports = new ArrayList<>();
  private final List<LineTimes> times = new ArrayList<>();
  private final Random random = new Random(1);
  private final double rateHz;
  private final Path rackFile;
  private final Thread writer = new Thread(this::run, "timed-rack");
  private volatile boolean closing;
  private volatile long lines;

  private TimedRack(int trackers, double rateHz, Path folder) throws IOException {
    this.rateHz = rateHz;
    StringBuilder rack = new StringBuilder("rack: timed\nslots:\n");
    for (int i = 0; i < trackers; i++) {
      PseudoTerminal port = new PseudoTerminal();
      ports.add(port);
      times.add(new LineTimes());
      rack.append("  L").append(i).append(": {port: ").append(port.path()).append("}\n");
    }
    rackFile = Files.writeString(folder.resolve("rack.yaml"), rack.toString());
  }

  static TimedRack start(int trackers, double rateHz, Path folder) throws IOException {
    TimedRack rack = new TimedRack(trackers, rateHz, folder);
    rack.writer.setDaemon(true);
    rack.writer.start();
    return rack;
  }

  Path rackFile() {
    return rackFile;
  }

  /** When each line of this tracker was written; null for a stranger. */
  LineTimes times(String tracker) {
    int at = Integer.parseInt(tracker.substring(tracker.indexOf('-') + 1));
    return at < times.size() ? times.get(at) : null;
  }

  long lines() {
    return lines;
  }

  private void run() {
    long startNs = System.nanoTime();
    long written = 0;
    while (!closing) {
      // Counted over all trackers, so that they take turns within each tick of their rate.
      long due = (long) ((System.nanoTime() - startNs) / 1e9 * rateHz * ports.size());
      for (; written < due; written++) {
        write((int) (written % ports.size()), written / ports.size());
      }
      lines = written;
      LockSupport.parkNanos(TICK_NS);
    }
  }

  private void write(int tracker, long number) {
    Instant now = Instant.now().truncatedTo(ChronoUnit.MICROS);
    String line = line(tracker, number, now);
    times.get(tracker).written(now.getEpochSecond(), System.nanoTime());
    // What does not fit while nobody has the port open is lost, as a real tracker's lines are.
    ports.get(tracker).write(line);
  }

  private String line(int tracker, long number, Instant now) {
    double s = number / rateHz - FIRST_SHAKEN_S - tracker;
    double dps = s >= 0 && s % SHAKEN_EVERY_S < SHAKEN_S ? 40 : 0.05;
    return String.format(
        Locale.ROOT,
        "{\"id\":\"TIMED-%d\",\"seq\":%d,\"time\":\"%s\",\"temp_c\":%.2f,"
            + "\"gyro_dps\":[%.4f,%.4f,%.4f]}%n",
        tracker,
        number,
        now,
        30 + 0.02 * random.nextGaussian(),
        dps * random.nextGaussian(),
        dps * random.nextGaussian(),
        dps * random.nextGaussian());
  }

  @Override
  public void close() throws IOException {
    closing = true;
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
