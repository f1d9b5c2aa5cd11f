package soakbench.api.samples;

import java.util.List;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import java.util.function.Supplier;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;
import soakbench.live.SampleSink;
import soakbench.model.Sample;

/**
 * Schedules the storing of uploads: in short batches, those of large uploads one at a time, so that
 * a sender of a few lines a second, or a port, never waits for more than one of them. Thread-safe.
 */
public final class UploadScheduler {
  /**
   * So many are stored within a third of the time that one may wait where the computer is quick:
   * two lines of each of five hundred trackers, or a long recording of one.
   */
  static final int MOST_SAMPLES = 10_000;

  /** With fewer, a batch's fixed cost would be most of it: a busy machine would do little else. */
  static final int FEWEST_SAMPLES = 500;

  /** Each tracker in a batch costs about as much as ten of its samples. */
  static final int SAMPLES_A_TRACKER = 10;

  private static final long LONG_NS = TimeUnit.MILLISECONDS.toNanos(80);
  private static final long SHORT_NS = LONG_NS / 3;

  /**
   * One stores and one is ready to: of fifty that pushed at the store itself none would let what
   * goes on by the clock have its turn.
   */
  private static final int AT_ONCE = 2;

  private final SampleSink sink;
  private final Turns turns;
  private volatile int cost = FEWEST_SAMPLES;

  /**
   * Whose turn it is; fair, so that of fifty uploads none starves.
   *
   * @param large of what is part of more: one at a time
   * @param all of any batch
   */
  private record Turns(Semaphore large, Semaphore all) {}

  public UploadScheduler(SampleSink sink) {
    this(sink, new Turns(new Semaphore(1, true), new Semaphore(AT_ONCE, true)));
  }

  private UploadScheduler(SampleSink sink, Turns turns) {
    this.sink = sink;
    this.turns = turns;
  }

  /** The same for samples that go elsewhere: they wait for the same turns. */
  UploadScheduler into(SampleSink other) {
    return new UploadScheduler(other, turns);
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
      return inTurn(turns.all, () -> sink.accept(batch));
    }
    return inTurn(turns.large, () -> inTurn(turns.all, () -> measured(batch)));
  }

  private static SampleSink.Outcome inTurn(Semaphore turn, Supplier<SampleSink.Outcome> work) {
    try {
      turn.acquire();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new ProblemException(Problem.Kind.BUSY, "The service is stopping; send it again.");
    }
    try {
      return work.get();
    } finally {
      turn.release();
    }
  }

  private SampleSink.Outcome measured(List<Sample> batch) {
    long beganNs = System.nanoTime();
    SampleSink.Outcome outcome = sink.accept(batch);
    adapt(System.nanoTime() - beganNs);
    return outcome;
  }

  /** Called in the turn of large ones. */
  private void adapt(long tookNs) {
    if (tookNs > LONG_NS) {
      cost = Math.max(FEWEST_SAMPLES, cost / 2);
    } else if (tookNs < SHORT_NS) {
      cost = Math.min(MOST_SAMPLES, cost + cost / 2);
    }
  }
}
