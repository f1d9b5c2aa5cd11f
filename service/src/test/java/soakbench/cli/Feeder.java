package soakbench.cli;

import java.util.List;
import java.util.concurrent.locks.LockSupport;

/** Prints lines at a steady pace whether or not anybody reads, as trackers do. */
final class Feeder implements AutoCloseable {
  private final List<LinePort> ports;
  private final List<List<byte[]>> lines;
  private final double linesPerS;
  private final Thread thread = new Thread(this::run, "feeder");
  private volatile boolean closing;

  private Feeder(List<LinePort> ports, List<List<byte[]>> lines, double linesPerS) {
    this.ports = ports;
    this.lines = lines;
    this.linesPerS = linesPerS;
  }

  static Feeder start(List<LinePort> ports, List<List<byte[]>> lines, double linesPerS) {
    Feeder feeder = new Feeder(ports, lines, linesPerS);
    feeder.thread.setDaemon(true);
    feeder.thread.start();
    return feeder;
  }

  private void run() {
    long startNs = System.nanoTime();
    int sent = 0;
    while (!closing && sent < lines.get(0).size()) {
      int due = (int) ((System.nanoTime() - startNs) / 1e9 * linesPerS);
      for (; sent < Math.min(due, lines.get(0).size()); sent++) {
        for (int i = 0; i < ports.size(); i++) {
          ports.get(i).offer(lines.get(i).get(sent));
        }
      }
      LockSupport.parkNanos(10_000_000);
    }
  }

  @Override
  public void close() {
    closing = true;
    try {
      thread.join();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}
