package soakbench.cli.running;

import java.util.concurrent.CountDownLatch;

/**
 * Keeps a command running until the program is asked to stop (SIGTERM, Ctrl-C), then closes its
 * parts before the process ends.
 */
public final class ShutdownHook {
  private final CountDownLatch stopped = new CountDownLatch(1);
  private volatile boolean stopping;

  private ShutdownHook() {}

  /** Something to close whose failure is worth a line and no more. */
  public interface Closing {
    void close() throws Exception;
  }

  /** Closes it from now on as soon as the program is asked to stop, also while it still starts. */
  public static ShutdownHook closing(Closing closing) {
    ShutdownHook until = new ShutdownHook();
    try {
      Runtime.getRuntime().addShutdownHook(new Thread(() -> until.stop(closing), "stop"));
    } catch (IllegalStateException e) {
      // The program was asked to stop before this was there to be closed.
      until.stop(closing);
    }
    return until;
  }

  private void stop(Closing closing) {
    stopping = true;
    try {
      closing.close();
    } catch (Exception e) {
      System.err.println("soakbench: did not stop cleanly: " + e.getMessage());
    } finally {
      stopped.countDown();
    }
  }

  /** Whether the program was asked to stop. */
  public boolean isStopping() {
    return stopping;
  }

  public void await() {
    try {
      stopped.await();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  public static void run(Closing closing) {
    closing(closing).await();
  }
}
