package soakbench.ingest.spool;

import java.util.List;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.host.Daemons;
import soakbench.host.FaultLog;
import soakbench.model.Sample;

/**
 * Takes samples from the queue to the spool, on a thread of its own. Where the spool is full or its
 * disk does not take more, the same batch is tried again until it does; the readers wait meanwhile.
 */
public final class SpoolWriter {
  private static final Logger LOG = LoggerFactory.getLogger(SpoolWriter.class);
  private static final int PAUSE_MS = 500;

  private final SampleQueue queue;
  private final Spool spool;
  private final Runnable onWritten;
  private final FaultLog faults = new FaultLog(LOG, "spooling samples");
  private final Thread thread = Daemons.thread("samples to spool", this::run);
  private final CountDownLatch givingUp = new CountDownLatch(1);
  private volatile int unwritten;
  private volatile String trouble = "";

  /**
   * @param onWritten called after each batch that is on the disk
   */
  public SpoolWriter(SampleQueue queue, Spool spool, Runnable onWritten) {
    this.queue = queue;
    this.spool = spool;
    this.onWritten = onWritten;
  }

  public void start() {
    thread.start();
  }

  /** Waits until the queue is done, for so long at most; then gives up on what is left. */
  public void finish(long withinMs) throws InterruptedException {
    thread.join(withinMs);
    givingUp.countDown();
    thread.join();
  }

  /** What keeps samples from the disk now; empty where nothing does. */
  public String trouble() {
    return trouble;
  }

  /** How many samples are in the batch being written. */
  public int unwritten() {
    return unwritten;
  }

  private void run() {
    try {
      while (!queue.isDone() && givingUp.getCount() > 0) {
        List<Sample> batch = queue.batch();
        if (!batch.isEmpty()) {
          write(batch);
        }
      }
    } catch (InterruptedException e) {
      LOG.debug("interrupted", e);
    }
  }

  private void write(List<Sample> batch) throws InterruptedException {
    unwritten = batch.size();
    while (!written(batch)) {
      if (givingUp.await(PAUSE_MS, TimeUnit.MILLISECONDS)) {
        return;
      }
    }
    unwritten = 0;
    if (!trouble.isEmpty()) {
      trouble = "";
      LOG.info("samples are spooled again; reading goes on");
    }
    try {
      onWritten.run();
    } catch (RuntimeException e) {
      faults.add(e);
    }
  }

  private boolean written(List<Sample> batch) {
    try {
      spool.append(batch);
      return true;
    } catch (SpoolException e) {
      if (trouble.isEmpty()) {
        LOG.error("reading waits: {}", e.getMessage());
      }
      trouble = e.getMessage();
      return false;
    } catch (RuntimeException e) {
      faults.add(e);
      trouble = "samples can't be spooled by a fault of this program: " + e;
      return false;
    }
  }
}
