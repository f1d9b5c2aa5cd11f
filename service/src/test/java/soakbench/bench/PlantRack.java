package soakbench.bench;

import java.net.URI;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import soakbench.ingest.sending.Destination;
import soakbench.ingest.sending.HttpDestination;
import soakbench.ingest.sending.SeveralServices;
import soakbench.ingest.sending.SeveralServices.Named;
import soakbench.live.StoreException;
import soakbench.model.Sample;

/**
 * One rack of a plant: its trackers' samples, made as they fall due, and sent by the program's own
 * sending. What is not stored is sent again.
 */
final class PlantRack {
  private static final long EVERY_MS = 200;
  private static final int MOST_AT_ONCE = 5_000;

  /** Racks begin so long after one another, by their own time, s. */
  static final double APART_S = 1;

  private final int rack;
  private final int trackers;
  private final double rateHz;
  private final long lines;
  private final double slower;
  private final Destination services;
  private final Random random;
  private final List<Double> delaysS = new ArrayList<>();
  private final Thread thread = new Thread(this::run, "rack");
  private volatile boolean stopped;

  /**
   * @param rateHz lines a second of each tracker
   * @param lines how many each of them has
   * @param slower how many times slower than the clock the trackers' time goes
   */
  PlantRack(int rack, int trackers, double rateHz, long lines, double slower, List<URI> urls) {
    this.rack = rack;
    this.trackers = trackers;
    this.rateHz = rateHz;
    this.lines = lines;
    this.slower = slower;
    this.random = new Random(rack);
    this.services =
        new SeveralServices(
            urls.stream()
                .map(url -> new Named(url.toString(), new HttpDestination(url, () -> null)))
                .toList());
  }

  static String name(int rack) {
    return "R" + (rack + 1);
  }

  static String tracker(int rack, int number) {
    return "PLANT-" + (rack + 1) + "-" + (number + 1);
  }

  void start() {
    thread.start();
  }

  /** Waits until all of its lines are stored. */
  void finish() throws InterruptedException {
    thread.join();
  }

  void stop() {
    stopped = true;
  }

  private void run() {
    try {
      TimeUnit.MILLISECONDS.sleep(Math.round(1000 * rack * APART_S * slower));
      long startNs = System.nanoTime();
      long startUs = System.currentTimeMillis() * 1000;
      long sent = 0;
      while (!stopped && sent < lines) {
        long due = Math.min(lines, (long) ((System.nanoTime() - startNs) / 1e9 / slower * rateHz));
        long until = Math.min(due, sent + Math.max(1, MOST_AT_ONCE / trackers));
        if (until > sent) {
          send(lines(startUs, sent, until));
          sent = until;
          delaysS.add((System.nanoTime() - startNs) / 1e9 - sent / rateHz * slower);
        }
        if (until == due) {
          TimeUnit.MILLISECONDS.sleep(EVERY_MS);
        }
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  private List<Sample> lines(long startUs, long from, long to) {
    List<Sample> lines = new ArrayList<>();
    for (long line = from; line < to; line++) {
      double seconds = line / rateHz;
      float temperatureC = (float) (31 - 9 * Math.exp(-seconds / 600));
      for (int i = 0; i < trackers; i++) {
        long timeUs = startUs + (long) (seconds * 1e6) + i;
        lines.add(
            new Sample(
                tracker(rack, i),
                timeUs,
                temperatureC,
                false,
                rate(),
                rate(),
                rate(),
                0,
                0,
                1,
                line,
                -1));
      }
    }
    return lines;
  }

  private float rate() {
    return (float) (0.3 + 0.05 * random.nextGaussian());
  }

  private void send(List<Sample> lines) throws InterruptedException {
    boolean again = false;
    while (!stopped) {
      try {
        Destination.Receipt receipt = again ? services.sendAgain(lines) : services.send(lines);
        if (!receipt.refused().isEmpty()) {
          throw new IllegalStateException("refused: " + receipt.refused());
        }
        return;
      } catch (StoreException e) {
        again = true;
        TimeUnit.MILLISECONDS.sleep(EVERY_MS);
      }
    }
  }

  double medianDelayS() {
    return delaysS.isEmpty()
        ? Double.NaN
        : delaysS.stream().sorted().skip(delaysS.size() / 2).findFirst().orElseThrow();
  }

  double longestDelayS() {
    return delaysS.stream().mapToDouble(Double::doubleValue).max().orElse(Double.NaN);
  }
}
