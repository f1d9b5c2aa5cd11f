package soakbench.ingest.spool;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import soakbench.host.Daemons;
import soakbench.model.Sample;

class SampleQueueTest {
  private final SampleQueue queue = new SampleQueue(3);
  private final List<Sample> samples = SpooledSamples.of(0, 5);

  private void put(int from, int to) {
    samples.subList(from, to).forEach(queue::put);
  }

  private Thread putting(int index) throws InterruptedException {
    Thread thread = Daemons.thread("reader", () -> queue.put(samples.get(index)));
    thread.start();
    while (!queue.isFull()) {
      Thread.sleep(1);
    }
    return thread;
  }

  @Test
  void samplesComeOutInTheirOrder() throws InterruptedException {
    put(0, 3);
    assertThat(queue.size()).isEqualTo(3);
    queue.finish();
    assertThat(queue.isDone()).isFalse();
    assertThat(queue.batch()).isEqualTo(samples.subList(0, 3));
    assertThat(queue.isDone()).isTrue();
  }

  @Test
  void whereNothingComesABatchIsEmptyAndNothingIsDone() throws InterruptedException {
    assertThat(queue.batch()).isEmpty();
    assertThat(queue.isDone()).isFalse();
  }

  @Test
  void aReaderWaitsWhileItIsFullAndLosesNothing() throws InterruptedException {
    queue.finish();
    put(0, 3);
    assertThat(queue.isFull()).isFalse();
    Thread reader = putting(3);
    assertThat(reader.isAlive()).isTrue();
    List<Sample> taken = new ArrayList<>();
    while (taken.size() < 4) {
      taken.addAll(queue.batch());
    }
    reader.join();
    assertThat(taken).isEqualTo(samples.subList(0, 4));
    assertThat(queue.dropped()).isZero();
    queue.put(samples.get(4));
    queue.batch();
    assertThat(queue.isFull()).isFalse();
  }

  @Test
  void abandoningLetsWhoWaitsGoAndCountsWhatIsLost() throws InterruptedException {
    put(0, 3);
    Thread reader = putting(3);
    queue.abandon();
    reader.join();
    assertThat(queue.isAbandoned()).isTrue();
    put(4, 5);
    List<Sample> left = queue.batch();
    assertThat(queue.dropped() + left.size()).isEqualTo(5);
    assertThat(queue.dropped()).isGreaterThanOrEqualTo(4);
  }

  @Test
  void aReaderThatIsInterruptedLosesItsSampleAndStaysInterrupted() throws InterruptedException {
    put(0, 3);
    boolean[] interrupted = new boolean[1];
    Thread reader =
        Daemons.thread(
            "reader",
            () -> {
              queue.put(samples.get(3));
              interrupted[0] = Thread.currentThread().isInterrupted();
            });
    reader.start();
    reader.interrupt();
    reader.join();
    assertThat(interrupted[0]).isTrue();
    assertThat(queue.dropped()).isEqualTo(1);
  }
}
