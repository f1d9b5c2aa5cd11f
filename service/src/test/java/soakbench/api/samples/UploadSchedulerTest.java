package soakbench.api.samples;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import soakbench.live.SampleSink;
import soakbench.live.Samples;
import soakbench.model.Sample;

/** Whose batch is stored when, of many uploads at once. */
@Timeout(60)
class UploadSchedulerTest {
  /** Counts who is in it at once; as slow as a store. */
  private static final class SlowSink implements SampleSink {
    private final AtomicInteger in = new AtomicInteger();
    private final AtomicInteger most = new AtomicInteger();
    private final AtomicInteger stored = new AtomicInteger();

    @Override
    public Outcome accept(List<Sample> samples) {
      most.accumulateAndGet(in.incrementAndGet(), Math::max);
      try {
        TimeUnit.MILLISECONDS.sleep(2);
      } catch (InterruptedException e) {
        Thread.currentThread().interrupt();
      }
      in.decrementAndGet();
      stored.addAndGet(samples.size());
      return new Outcome(samples.size(), 0, 0);
    }
  }

  private static int mostAtOnce(boolean partOfMore) throws Exception {
    SlowSink sink = new SlowSink();
    UploadScheduler scheduler = new UploadScheduler(sink);
    List<Sample> batch = new Samples.Maker().every(1).lines(10).samples();
    ExecutorService uploads = Executors.newFixedThreadPool(30);
    try {
      List<Future<?>> all = new ArrayList<>();
      for (int i = 0; i < 120; i++) {
        all.add(uploads.submit(() -> scheduler.store(batch, partOfMore)));
      }
      for (Future<?> each : all) {
        each.get();
      }
    } finally {
      uploads.shutdownNow();
    }
    assertThat(sink.stored).hasValue(1200);
    return sink.most.get();
  }

  @Test
  void ofManySmallOnesTwoPushAtTheStoreAndOfLargeOnesOne() throws Exception {
    assertThat(mostAtOnce(false)).isEqualTo(2);
    assertThat(mostAtOnce(true)).isEqualTo(1);
  }
}
