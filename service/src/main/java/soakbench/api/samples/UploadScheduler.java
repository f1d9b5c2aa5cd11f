package soakbench.api.samples;

import java.util.List;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;
import soakbench.live.SampleSink;
import soakbench.model.Sample;

/**
 * Schedules the storing of uploads: in short batches, those of large uploads one at a time, so that
 * a sender of a few lines a second, or a port, never waits for more than one of them. Thread-safe.
 */
public final class UploadScheduler {
  /** Few enough for the store's fixed cost of a batch not to matter. */
  static final int MOST_SAMPLES = 2_000;

  /** With fewer, that cost would be most of it, and a busy machine would do little else. */
  static final int FEWEST_SAMPLES = 500;

  /** Each tracker in a batch costs about as much as ten of its samples. */
  static final int SAMPLES_A_TRACKER = 10;

  private static final long LONG_NS = TimeUnit.MILLISECONDS.toNanos(80);
  private static final long SHORT_NS = LONG_NS / 3;

  private final SampleSink sink;

  /** Fair, so that of fifty uploads none starves. */
  private final Semaphore large;

  private volatile int cost = FEWEST_SAMPLES;

  public UploadScheduler(SampleSink sink) {
    this(sink, new Semaphore(1, true));
  }

  private UploadScheduler(SampleSink sink, Semaphore large) {
    this.sink = sink;
    this.large = large;
  }

  /** The same for samples that go elsewhere: large uploads still come one at a time. */
  UploadScheduler into(SampleSink other) {
    return new UploadScheduler(other, large);
  }

  /** What a batch may cost now: its samples, and ten for each of its trackers. */
  int mostCost() {
    return cost;
  }

  /**
   * Stores a batch.
   *
   * @param partOfMore whether the upload has more than this one batch
   * @throws ProblemException if the service is stopping
   */
  SampleSink.Outcome store(List<Sample> batch, boolean partOfMore) {
    if (!partOfMore) {
      return sink.accept(batch);
    }
    try {
      large.acquire();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new ProblemException(Problem.Kind.BUSY, "The service is stopping; send it again.");
    }
    try {
      long beganNs = System.nanoTime();
      SampleSink.Outcome outcome = sink.accept(batch);
      adapt(System.nanoTime() - beganNs);
      return outcome;
    } finally {
      large.release();
    }
  }

  /** Called while holding the permit. */
  private void adapt(long tookNs) {
    if (tookNs > LONG_NS) {
      cost = Math.max(FEWEST_SAMPLES, cost / 2);
    } else if (tookNs < SHORT_NS) {
      cost = Math.min(MOST_SAMPLES, cost + cost / 2);
    }
  }
}
