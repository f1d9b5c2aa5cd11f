package soakbench.ingest.sending;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Semaphore;
import java.util.concurrent.ThreadLocalRandom;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.host.Backoff;
import soakbench.host.Daemons;
import soakbench.host.FaultLog;
import soakbench.ingest.spool.Spool;
import soakbench.ingest.spool.SpoolException;
import soakbench.live.StoreException;
import soakbench.model.Sample;

/**
 * Takes samples from the spool to their destination, oldest first, on a thread of its own. They
 * leave the spool when the destination has acknowledged them; where it is away, they are tried
 * again until it is back.
 */
public final class Sender {
  private static final Logger LOG = LoggerFactory.getLogger(Sender.class);
  private static final int BATCH_SIZE = 5000;
  private static final int POLL_MS = 500;
  private static final Duration FIRST_PAUSE = Duration.ofMillis(250);
  private static final Duration LONGEST_PAUSE = Duration.ofSeconds(2);
  private static final long WAITS_AFTER_NS = TimeUnit.SECONDS.toNanos(2);

  private final Spool spool;
  private final Destination destination;
  private final Consumer<String> onFailure;
  private final Thread thread = Daemons.thread("samples to store", this::run);
  private final Semaphore wakings = new Semaphore(0);
  private final FaultLog faults = new FaultLog(LOG, "storing samples");
  private final Backoff backoff =
      new Backoff(FIRST_PAUSE, LONGEST_PAUSE, ThreadLocalRandom.current());
  private volatile boolean finishing;
  private DeliveryTotals totals = DeliveryTotals.NONE;
  private volatile String trouble = "";
  private long waitedMost;

  /** The newest sample that was sent, acknowledged or not. */
  private long triedUpTo;

  private volatile long wellNs = System.nanoTime();

  /**
   * @param onFailure called once, with the reason, when sending has ended for good
   */
  public Sender(Spool spool, Destination destination, Consumer<String> onFailure) {
    this.spool = spool;
    this.destination = destination;
    this.onFailure = onFailure;
  }

  public void start() {
    thread.start();
  }

  /** There is something new in the spool. */
  public void wake() {
    wakings.release();
  }

  /**
   * Sends what is in the spool, for so long at most, and ends; at once where the destination is
   * away. What is left stays in the spool.
   */
  public void finish(long withinMs) throws InterruptedException {
    finishing = true;
    wake();
    thread.join(withinMs);
    thread.interrupt();
    thread.join();
  }

  public synchronized DeliveryTotals totals() {
    return totals;
  }

  /** What keeps samples from being stored now; empty where nothing does. */
  public String trouble() {
    return trouble;
  }

  /** Whether what is new has to wait: nothing was stored lately, or much is before it. */
  public boolean isBehind() {
    return System.nanoTime() - wellNs > WAITS_AFTER_NS || spool.status().waiting() > BATCH_SIZE;
  }

  private void run() {
    try {
      while (step()) {
        // Until there is nothing left to do.
      }
    } catch (StoreException e) {
      LOG.debug("the store refused samples for good", e);
      fail("samples can't be stored, so reading has stopped: " + e.getMessage());
    } catch (InterruptedException e) {
      LOG.debug("interrupted while sending; what is left stays in the spool", e);
    }
  }

  private void fail(String reason) {
    trouble = reason;
    LOG.error(reason);
    onFailure.accept(reason);
  }

  /** Sends one batch, or waits for one; returns whether there is more to do. */
  private boolean step() throws InterruptedException {
    // Asked before looking: what was spooled before the finish is seen then.
    boolean last = finishing;
    try {
      List<Spool.Entry> batch = spool.oldest(BATCH_SIZE);
      if (!batch.isEmpty()) {
        send(batch);
        return true;
      }
      wellNs = System.nanoTime();
      logCaughtUp();
    } catch (StoreException e) {
      if (!e.transientFault()) {
        throw e;
      }
      pauseAfter(e.getMessage(), last);
      return !last;
    } catch (SpoolException e) {
      pauseAfter(e.getMessage(), last);
      return !last;
    } catch (RuntimeException e) {
      // Perhaps it was this batch at this moment; the samples stay in the spool.
      faults.add(e);
      pauseAfter("a fault of this program: " + e, last);
      return !last;
    }
    if (!last) {
      wakings.tryAcquire(POLL_MS, TimeUnit.MILLISECONDS);
      wakings.drainPermits();
    }
    return !last;
  }

  private void pauseAfter(String reason, boolean last) throws InterruptedException {
    logAway(reason);
    if (!last) {
      TimeUnit.NANOSECONDS.sleep(backoff.next().toNanos());
    }
  }

  private void send(List<Spool.Entry> batch) throws InterruptedException {
    List<Sample> samples = batch.stream().map(Spool.Entry::sample).toList();
    boolean again = batch.get(0).id() <= triedUpTo;
    triedUpTo = Math.max(triedUpTo, batch.get(batch.size() - 1).id());
    Destination.Receipt receipt =
        again ? destination.sendAgain(samples) : destination.send(samples);
    List<Spool.Refused> refused = new ArrayList<>();
    for (Destination.Refusal each : receipt.refused()) {
      refused.add(new Spool.Refused(batch.get(each.index()), each.reason()));
    }
    spool.settle(batch.get(batch.size() - 1).id(), refused);
    wellNs = System.nanoTime();
    count(receipt);
    logRefused(refused);
    backoff.reset();
    if (!trouble.isEmpty()) {
      trouble = "";
      LOG.info("samples are stored again; {} still wait", spool.status().waiting());
    }
  }

  private void logAway(String reason) {
    if (trouble.isEmpty()) {
      LOG.warn("samples can't be stored now and wait in the spool: {}", reason);
    }
    trouble = reason;
    waitedMost = Math.max(waitedMost, spool.status().waiting());
  }

  private void logCaughtUp() {
    if (waitedMost > 0) {
      LOG.info("all samples that waited are stored; none was lost");
      waitedMost = 0;
    }
  }

  private static void logRefused(List<Spool.Refused> refused) {
    if (!refused.isEmpty()) {
      Spool.Refused first = refused.get(0);
      LOG.warn(
          "{} samples were refused for good and are set aside in the spool; one of {}: {}",
          refused.size(),
          first.entry().sample().tracker(),
          first.reason());
    }
  }

  private synchronized void count(Destination.Receipt receipt) {
    totals = totals.plus(receipt);
  }
}
