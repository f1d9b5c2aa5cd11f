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
 * While samples wait for whoever stores them, tells it the newest of each tracker beside that, once
 * a second on a thread of its own: heat must not wait for a store.
 */
public final class NewestTeller {
  private static final Logger LOG = LoggerFactory.getLogger(NewestTeller.class);
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
  public NewestTeller(NewestSamples newest, Destination destination, BooleanSupplier waits) {
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
          tell();
        }
      }
    } catch (InterruptedException e) {
      LOG.debug("interrupted; nothing more is told", e);
    }
  }

  private void tell() throws InterruptedException {
    try {
      NewestSamples.Told told = newest.untold();
      if (!told.samples().isEmpty()) {
        destination.hear(told.samples());
        told.done().run();
      }
    } catch (StoreException e) {
      // Told again in a second; that it is away stands in the report already.
      LOG.debug("the newest samples are not heard", e);
    } catch (RuntimeException e) {
      faults.add(e);
    }
  }
}
