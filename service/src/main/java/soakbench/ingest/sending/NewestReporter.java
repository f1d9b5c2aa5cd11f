package soakbench.ingest.sending;

import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.function.BooleanSupplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.host.Daemons;
import soakbench.host.FaultLog;
import soakbench.live.StoreException;

/**
 * While samples wait to be stored, reports the newest of each tracker to the destination, once a
 * second on a thread of its own: monitoring of heat must not wait for a store.
 */
public final class NewestReporter {
  private static final Logger LOG = LoggerFactory.getLogger(NewestReporter.class);
  private static final int EVERY_MS = 1000;

  private final NewestSamples newest;
  private final Destination destination;
  private final BooleanSupplier waits;
  private final FaultLog faults = new FaultLog(LOG, "telling the newest samples");
  private final CountDownLatch finishing = new CountDownLatch(1);
  private final Thread thread = Daemons.thread("newest samples", this::run);

  /**
   * @param waits whether samples wait
   */
  public NewestReporter(NewestSamples newest, Destination destination, BooleanSupplier waits) {
    this.newest = newest;
    this.destination = destination;
    this.waits = waits;
  }

  public void start() {
    thread.start();
  }

  public void finish() {
    finishing.countDown();
    thread.interrupt();
  }

  private void run() {
    try {
      while (!finishing.await(EVERY_MS, TimeUnit.MILLISECONDS)) {
        if (waits.getAsBoolean()) {
          report();
        }
      }
    } catch (InterruptedException e) {
      LOG.debug("interrupted; nothing more is told", e);
    }
  }

  private void report() throws InterruptedException {
    try {
      NewestSamples.Unreported news = newest.unreported();
      if (!news.samples().isEmpty()) {
        destination.hear(news.samples());
        news.done().run();
      }
    } catch (StoreException e) {
      // Reported again in a second; that it is away is in the agent's status already.
      LOG.debug("the newest samples are not heard", e);
    } catch (RuntimeException e) {
      faults.add(e);
    }
  }
}
