package soakbench.host;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;

@Timeout(30)
class DaemonsTest {

  @Test
  void aThreadKeepsNoProgramAliveAndBearsItsName() throws Exception {
    Thread thread = Daemons.named("counting").newThread(() -> {});
    assertThat(thread.isDaemon()).isTrue();
    assertThat(thread.getName()).isEqualTo("counting");
    assertThat(thread.getState()).isEqualTo(Thread.State.NEW);
  }

  @Test
  void whoIsInterruptedWaitsAllTheSameAndStaysInterrupted() throws Exception {
    CountDownLatch end = new CountDownLatch(1);
    Thread work = Daemons.thread("work", () -> Daemons.await(end));
    work.start();
    CountDownLatch joined = new CountDownLatch(1);
    boolean[] interrupted = {false};
    Thread waiting =
        Daemons.thread(
            "waiting",
            () -> {
              Daemons.join(work);
              interrupted[0] = Thread.currentThread().isInterrupted();
              joined.countDown();
            });
    waiting.start();
    waiting.interrupt();
    assertThat(joined.await(200, TimeUnit.MILLISECONDS)).isFalse();
    end.countDown();
    assertThat(joined.await(10, TimeUnit.SECONDS)).isTrue();
    assertThat(interrupted[0]).isTrue();
  }
}
