package soakbench.cli;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.locks.LockSupport;

/**
 * Trackers on pseudo-terminals that print numbered lines in real time, whether or not anybody
 * reads. What a line says follows from tracker and number, so that it can be checked afterwards.
 */
public final class NumberedLines implements AutoCloseable {
  private static final double MOST_BEHIND_S = 0.1;

  private final List<LinePort> ports = new ArrayList<>();
  private final double linesPerS;
  private final Thread thread = new Thread(this::run, "numbered lines");
  private volatile boolean closing;
  private volatile int sent;
  private long dropped;

  private NumberedLines(int trackers, double linesPerS) throws IOException {
    this.linesPerS = linesPerS;
    for (int i = 0; i < trackers; i++) {
      ports.add(new LinePort());
    }
  }

  static NumberedLines start(int trackers, double linesPerS) throws IOException {
    NumberedLines lines = new NumberedLines(trackers, linesPerS);
    lines.begin();
    return lines;
  }

  /**
   * Opens the terminals; nothing is printed before {@link #begin}.
   *
   * @param linesPerS each tracker prints so many
   */
  public static NumberedLines open(int trackers, double linesPerS) throws IOException {
    return new NumberedLines(trackers, linesPerS);
  }

  public void begin() {
    thread.setDaemon(true);
    thread.start();
  }

  /** The rack file for them. */
  public String rack() {
    StringBuilder rack = new StringBuilder("rack: test\nslots:\n");
    for (int i = 0; i < ports.size(); i++) {
      rack.append("  P").append(i).append(": {port: ").append(ports.get(i).path()).append("}\n");
    }
    return rack.toString();
  }

  public static String id(int tracker) {
    return "WREN-" + tracker;
  }

  static float temperatureC(int tracker, long seq) {
    return 20 + tracker % 10 + (seq % 1000) / 1000f;
  }

  static float rateDps(int tracker, long seq) {
    return (seq % 97) / 97f - tracker / 100f;
  }

  /** Every other tracker has a clock of its own; the others have the time of arrival. */
  private static String line(int tracker, int seq) {
    String clock = tracker % 2 == 0 ? ",\"t_ms\":" + 10 * seq : "";
    return "{\"id\":\""
        + id(tracker)
        + "\",\"seq\":"
        + seq
        + clock
        + ",\"temp_c\":"
        + temperatureC(tracker, seq)
        + ",\"gyro_dps\":["
        + rateDps(tracker, seq)
        + ",0.5,-0.25]}\n";
  }

  private void run() {
    long startNs = System.nanoTime();
    while (!closing) {
      int due = (int) ((System.nanoTime() - startNs) / 1e9 * linesPerS);
      int late = due - sent - (int) (MOST_BEHIND_S * linesPerS);
      if (late > 0) {
        // Where the machine stood still it goes on from there: a burst would not fit a terminal.
        startNs += (long) (late / linesPerS * 1e9);
        due -= late;
      }
      for (; sent < due; sent++) {
        for (int i = 0; i < ports.size(); i++) {
          byte[] line = line(i, sent).getBytes(StandardCharsets.US_ASCII);
          dropped += line.length - ports.get(i).offer(line);
        }
      }
      LockSupport.parkNanos(5_000_000);
    }
  }

  /** How many lines each tracker has printed. */
  public int sent() {
    return sent;
  }

  /** How many bytes did not fit into a terminal that nobody read. */
  public long dropped() {
    return dropped;
  }

  int trackers() {
    return ports.size();
  }

  public void stop() {
    closing = true;
    try {
      thread.join();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  @Override
  public void close() throws IOException {
    stop();
    for (LinePort port : ports) {
      port.close();
    }
  }
}
