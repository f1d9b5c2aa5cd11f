package soakbench.cli;

import java.util.concurrent.CountDownLatch;

/**
 * Keeps a command running until the program is told to stop, then closes its parts before the
 * program ends.
 */
final class UntilStopped {
  private UntilStopped() {}

  /** Something to close whose failure is worth a line and no more. */
  interface Closing {
    void close() throws Exception;
  }

  static void run(Closing closing) {
    CountDownLatch stop = new CountDownLatch(1);
    Thread hook =
        new Thread(
            () -> {
              try {
                closing.close();
              } catch (Exception e) {
                System.err.println("soakbench: did not stop cleanly: " + e.getMessage());
              } finally {
                stop.countDown();
              }
            },
            "stop");
    Runtime.getRuntime().addShutdownHook(hook);
    try {
      stop.await();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}
