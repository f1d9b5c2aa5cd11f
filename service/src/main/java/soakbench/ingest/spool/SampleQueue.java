package soakbench.ingest.spool;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.model.Sample;

/**
 * Samples on their way from many readers to one sender. When it's full the readers wait, so that
 * the tty's buffers fill next; that is logged once.
 */
public final class SampleQueue {
  private static final Logger LOG = LoggerFactory.getLogger(SampleQueue.class);
  private static final int BATCH_SIZE = 5000;
  private static final int BATCH_MS = 100;
  private static final int CHECK_MS = 100;

  private final ArrayBlockingQueue<Sample> samples;
  private final CountDownLatch finished = new CountDownLatch(1);
  private final AtomicLong dropped = new AtomicLong();
  private volatile boolean abandoned;
  private volatile boolean full;

  public SampleQueue(int capacity) {
    // Fair: a port that floods must not starve the others.
    samples = new ArrayBlockingQueue<>(capacity, true);
  }

  /** Adds one sample; waits while the queue is full. */
  public void put(Sample sample) {
    if (abandoned) {
      dropped.incrementAndGet();
    } else if (!samples.offer(sample)) {
      putWaiting(sample);
    }
  }

  private void putWaiting(Sample sample) {
    logFull();
    try {
      while (!samples.offer(sample, CHECK_MS, TimeUnit.MILLISECONDS)) {
        if (abandoned) {
          dropped.incrementAndGet();
          return;
        }
      }
    } catch (InterruptedException e) {
      dropped.incrementAndGet();
      Thread.currentThread().interrupt();
    }
  }

  private synchronized void logFull() {
    if (!full) {
      full = true;
      LOG.warn("{} samples wait to be stored; reading waits as well", samples.size());
    }
  }

  /** The next samples, 100 ms worth or up to 5000; empty where none came for a moment. */
  List<Sample> batch() throws InterruptedException {
    List<Sample> batch = new ArrayList<>();
    Sample first = samples.poll(CHECK_MS, TimeUnit.MILLISECONDS);
    if (first == null) {
      return batch;
    }
    batch.add(first);
    if (samples.size() < BATCH_SIZE) {
      finished.await(BATCH_MS, TimeUnit.MILLISECONDS);
    }
    samples.drainTo(batch, BATCH_SIZE - 1);
    if (full && samples.isEmpty()) {
      full = false;
      LOG.info("no samples wait any more; reading goes on");
    }
    return batch;
  }

  public int size() {
    return samples.size();
  }

  /** Whether readers wait, or waited until just now. */
  public boolean isFull() {
    return full;
  }

  /** Nothing more is added from now on. */
  public void finish() {
    finished.countDown();
  }

  /** Whether nothing more is added and nothing is left. */
  boolean isDone() {
    return finished.getCount() == 0 && samples.isEmpty();
  }

  /** Releases all waiting threads; what is in it, and what is added later, is dropped. */
  public void abandon() {
    abandoned = true;
    dropped.addAndGet(samples.drainTo(new ArrayList<>()));
  }

  public boolean isAbandoned() {
    return abandoned;
  }

  /** How many samples were dropped because the queue was abandoned. */
  public long dropped() {
    return dropped.get();
  }
}
