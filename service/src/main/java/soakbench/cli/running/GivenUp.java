package soakbench.cli.running;

import java.io.IOException;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;

/** Long work that is given up, and cleaned up after, when the program is asked to stop. */
public final class GivenUp {
  private static final long CLEANED_UP_WITHIN_S = 20;

  private GivenUp() {}

  /** Work that ends soon after its thread is interrupted. */
  @FunctionalInterface
  public interface Work<T> {
    T run() throws IOException;
  }

  /** Does the work in this thread, which is interrupted when the program is asked to stop. */
  public static <T> T whenStopped(Work<T> work) throws IOException {
    Thread worker = Thread.currentThread();
    CountDownLatch ended = new CountDownLatch(1);
    ShutdownHook.closing(
        () -> {
          if (ended.getCount() > 0) {
            worker.interrupt();
            ended.await(CLEANED_UP_WITHIN_S, TimeUnit.SECONDS);
          }
        });
    try {
      return work.run();
    } finally {
      ended.countDown();
    }
  }
}
