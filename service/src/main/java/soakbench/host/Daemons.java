package soakbench.host;

import java.util.concurrent.CountDownLatch;
import java.util.concurrent.ThreadFactory;

/** Threads that don't keep the program from ending, and waiting for them. */
public final class Daemons {
  private Daemons() {}

  /** A thread of this name, not started yet. */
  public static Thread thread(String name, Runnable work) {
    Thread thread = new Thread(work, name);
    thread.setDaemon(true);
    return thread;
  }

  /** Makes such threads for an executor. */
  public static ThreadFactory named(String name) {
    return work -> thread(name, work);
  }

  /** Waits for a thread to end, however often this one is interrupted; it stays interrupted. */
  public static void join(Thread thread) {
    throughout(thread::join);
  }

  /** The same for a latch. */
  public static void await(CountDownLatch latch) {
    throughout(latch::await);
  }

  private interface Wait {
    void run() throws InterruptedException;
  }

  private static void throughout(Wait wait) {
    boolean interrupted = false;
    boolean done = false;
    while (!done) {
      try {
        wait.run();
        done = true;
      } catch (InterruptedException e) {
        interrupted = true;
      }
    }
    if (interrupted) {
      Thread.currentThread().interrupt();
    }
  }
}
