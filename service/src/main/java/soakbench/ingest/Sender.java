package soakbench.ingest;

import java.util.List;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.live.Sink;
import soakbench.live.StoreException;
import soakbench.model.Sample;

/**
 * Takes samples from the queue to the sink, on a thread of its own. Where the store is away, the
 * same batch is tried again until it's back.
 */
final class Sender {
  private static final Logger LOG = LoggerFactory.getLogger(Sender.class);
  private static final int FIRST_PAUSE_MS = 250;
  private static final int LONGEST_PAUSE_MS = 5000;

  private final SampleQueue queue;
  private final Sink sink;
  private final Consumer<String> onFailure;
  private final Thread thread = new Thread(this::run, "samples to store");
  private final CountDownLatch givingUp = new CountDownLatch(1);
  private AgentTotals totals = new AgentTotals(0, 0, 0);
  private volatile int unsent;
  private volatile String trouble = "";

  /**
   * @param onFailure hears, once, why sending has ended for good
   */
  Sender(SampleQueue queue, Sink sink, Consumer<String> onFailure) {
    this.queue = queue;
    this.sink = sink;
    this.onFailure = onFailure;
    thread.setDaemon(true);
  }

  void start() {
    thread.start();
  }

  /** Waits until the queue is done, for so long at most; then gives up on what is left. */
  void finish(long withinMs) throws InterruptedException {
    thread.join(withinMs);
    givingUp.countDown();
    thread.join();
  }

  synchronized AgentTotals totals() {
    return totals;
  }

  /** What keeps the store from taking samples now; empty where nothing does. */
  String trouble() {
    return trouble;
  }

  /** How many samples are in the batch being sent. */
  int unsent() {
    return unsent;
  }

  private void run() {
    try {
      while (!queue.isDone() && !isGivingUp()) {
        List<Sample> batch = queue.batch();
        if (!batch.isEmpty()) {
          send(batch);
        }
      }
    } catch (StoreException e) {
      LOG.debug("the store refused samples for good", e);
      fail("samples can't be stored, so reading has stopped: " + e.getMessage());
    } catch (RuntimeException e) {
      LOG.error("storing samples failed by a fault of this program", e);
      fail("reading has stopped by a fault of this program: " + e);
    } catch (InterruptedException e) {
      fail("storing samples was interrupted, so reading has stopped");
    }
  }

  private void fail(String reason) {
    trouble = reason;
    LOG.error(reason);
    onFailure.accept(reason);
  }

  private boolean isGivingUp() {
    return givingUp.getCount() == 0;
  }

  private void send(List<Sample> batch) throws InterruptedException {
    unsent = batch.size();
    int pauseMs = FIRST_PAUSE_MS;
    while (!sent(batch)) {
      if (givingUp.await(pauseMs, TimeUnit.MILLISECONDS)) {
        return;
      }
      pauseMs = Math.min(LONGEST_PAUSE_MS, 2 * pauseMs);
    }
    unsent = 0;
    if (!trouble.isEmpty()) {
      trouble = "";
      LOG.info("samples are stored again; none was lost");
    }
  }

  private boolean sent(List<Sample> batch) {
    try {
      count(sink.accept(batch));
      return true;
    } catch (StoreException e) {
      if (!e.transientFault()) {
        throw e;
      }
      if (trouble.isEmpty()) {
        LOG.warn("samples can't be stored now and wait: {}", e.getMessage());
      }
      trouble = e.getMessage();
      return false;
    }
  }

  private synchronized void count(Sink.Outcome outcome) {
    totals = totals.plus(outcome);
  }
}
