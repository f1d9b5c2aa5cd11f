package soakbench.cli.running;

import java.util.HashSet;
import java.util.Set;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Runs periodic tasks in isolation: an exception in one never keeps the others from running, and is
 * logged once, until that task succeeds again. Not thread-safe.
 */
final class IsolatedTasks {
  private static final Logger LOG = LoggerFactory.getLogger(IsolatedTasks.class);

  private final Set<String> failing = new HashSet<>();

  /**
   * @param what the task, for the log
   */
  void run(String what, Runnable work) {
    try {
      work.run();
      if (failing.remove(what)) {
        LOG.info("{}: looked after again", what);
      }
    } catch (RuntimeException e) {
      if (failing.add(what)) {
        LOG.error("{}: a mistake of the program while time passed; the rest goes on", what, e);
      }
    }
  }
}
